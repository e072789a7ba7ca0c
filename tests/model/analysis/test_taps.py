"""Taps and circuits: which device guards a conductor, and which conductors are in series."""

from __future__ import annotations

from typing import Any

from model.survey import Survey
from tests.boat_builder import Boat


def house(main_a: float | None = 200, **more: Any) -> Boat:
    boat = Boat().battery("G1").fuse("F1", main_a).busbar("X1").load("E1").load("E2")
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "X1.s1", **more)
    return boat.wire("W3", "X1.s2", "E1.+").wire("W4", "X1.s3", "E2.+")


def test_conductors_on_a_bus_are_tapped_and_the_feed_starts_at_its_fuse() -> None:
    survey = Survey(house().diagram())
    assert {tap.conductor: (tap.at, tap.guard.rated_a) for tap in survey.taps} == {
        "W3": ("X1", 200), "W4": ("X1", 200)}
    assert {circuit.conductor: circuit.chain for circuit in survey.circuits} == {"W2": ("W2",)}


def test_a_chain_passes_switches_and_ends_where_others_branch_off() -> None:
    boat = Boat().battery("G1").fuse("F1", 50).switch("Q1").switch("Q2").load("E1")
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "Q1.a").wire("W3", "Q1.b", "Q2.a")
    boat.wire("W4", "Q2.b", "E1.+")
    assert Survey(boat.diagram()).circuits[0].chain == ("W2", "W3", "W4")


def test_a_larger_device_farther_on_does_not_hide_the_smaller_one_before() -> None:
    boat = Boat().battery("G1").fuse("F1", 20).fuse("F2", 100).load("E1")
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "F2.a").wire("W3", "F2.b", "E1.+")
    guards = {c.conductor: c.guard for c in Survey(boat.diagram()).circuits}
    assert (guards["W3"].rated_a, guards["W3"].device) == (20, "F1")


def test_the_worst_of_two_ways_counts() -> None:
    boat = house(100).fuse("F9", 300)
    boat.wire("W8", "G1.+", "F9.a").wire("W9", "F9.b", "X1.s4")
    guards = {tap.conductor: tap.guard for tap in Survey(boat.diagram()).taps}
    assert (guards["W3"].rated_a, guards["W3"].device) == (300, "F9")


def test_a_device_of_unknown_rating_leaves_no_bound_and_is_named() -> None:
    guard = Survey(house(None).diagram()).taps[0].guard
    assert guard.rated_a is None
    assert guard.unknown == ("F1",)


def test_an_unknown_device_behind_a_known_one_is_bounded_by_it() -> None:
    boat = Boat().battery("G1").fuse("F1", 100).fuse("F2").load("E1")
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "F2.a").wire("W3", "F2.b", "E1.+")
    guard = {c.conductor: c.guard for c in Survey(boat.diagram()).circuits}["W3"]
    assert (guard.rated_a, guard.unknown) == (100, ("F2",))


def test_a_rating_is_sure_when_every_one_that_bears_on_it_is_known() -> None:
    boat = house().fuse("F2").load("E3").wire("W5", "X1.s4", "F2.a").wire("W6", "F2.b", "E3.+")
    survey = Survey(boat.diagram())
    guards = {circuit.conductor: circuit.guard for circuit in survey.circuits}
    assert (guards["W2"].rated_a, guards["W2"].sure_a) == (200, 200)
    assert (guards["W6"].rated_a, guards["W6"].sure_a) == (200, None)
    bounds = [survey.largest_before(survey.graph.number[name])
              for name in ("X1.s1", "F2.b+", "E1.-")]
    assert bounds == [(200, 200), (0, 200), None]
