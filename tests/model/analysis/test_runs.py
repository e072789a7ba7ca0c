"""Runs: what is in series, what branches, and what ends a run."""

from __future__ import annotations

from model.analysis.runs import runs, series_pairs
from model.survey import Survey
from tests.boat_builder import Boat


def grouped(boat: Boat) -> set[frozenset[str]]:
    return {frozenset(run) for run in runs(Survey(boat.diagram()).graph)}


def chain() -> Boat:
    """Battery, fuse, switch, stud, load; a signal wire that is no part of it."""
    return (
        Boat().battery("G1").fuse("F1", 30).switch("Q1").part("X1", "stud").load("E1")
        .wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "Q1.a").wire("W3", "Q1.b", "X1.s")
        .wire("W4", "X1.s", "E1.+").wire("W9", "X1.s", "E1.+", purpose="sense")
    )


def test_conductors_past_fuse_switch_and_stud_are_one_run() -> None:
    assert grouped(chain()) == {frozenset({"W1", "W2", "W3", "W4"})}


def test_a_branch_ends_a_run() -> None:
    made = chain().load("E2").wire("W5", "X1.s", "E2.+")
    assert grouped(made) == {frozenset({"W1", "W2", "W3"}), frozenset({"W4"}), frozenset({"W5"})}


def test_a_load_or_battery_between_ends_a_run() -> None:
    made = Boat().battery("G1").load("E1").load("E2")
    made.wire("W1", "G1.+", "E1.+").wire("W2", "E1.+", "E2.+")
    assert grouped(made) == {frozenset({"W1"}), frozenset({"W2"})}


def test_a_device_is_passed_only_when_asked_for() -> None:
    graph = Survey(chain().diagram()).graph
    met = {frozenset({one.owner, other.owner})
           for (one, _), (other, _) in series_pairs(graph, past_devices=False)}
    assert met == {frozenset({"W2", "W3"}), frozenset({"W3", "W4"})}
