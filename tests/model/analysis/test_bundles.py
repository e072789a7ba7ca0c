"""Bundles: by name, by a stated count, and without what never runs together."""

from __future__ import annotations

from model.survey import Survey
from tests.boat_builder import Boat


def found(boat: Boat) -> list[tuple[tuple[str, ...], int]]:
    return [(bundle.conductors, bundle.count) for bundle in Survey(boat.diagram()).bundles]


def three(**more: str) -> Boat:
    boat = Boat().battery("G1").busbar("X1").wire("W9", "G1.+", "X1.s1")
    for number in (1, 2, 3):
        own = {"never_with": group} if (group := more.get(f"E{number}")) else {}
        boat.load(f"E{number}", current_a=1, **own)
        boat.wire(f"W{number}", f"X1.s{number + 1}", f"E{number}.+", bundle="B1")
    return boat


def test_conductors_of_one_name_lie_together() -> None:
    assert found(three()) == [(("W1", "W2", "W3"), 3)]


def test_a_stated_count_may_be_of_more_than_is_drawn() -> None:
    assert found(three().wire("W1", "X1.s2", "E1.+", bundle="B1", bundle_count=5)) == [
        (("W1", "W2", "W3"), 5)]
    assert found(Boat().load("E1").fuse("F1").wire("W1", "F1.b", "E1.+", bundle_count=4)) == [
        (("W1",), 4)]


def test_of_those_that_never_run_together_one_counts() -> None:
    assert found(three(E2="a", E3="a")) == [(("W1", "W2"), 2)]


def test_ac_and_sense_wires_are_not_counted() -> None:
    boat = three().wire("W3", "X1.s4", "E3.+", bundle="B1", purpose="sense")
    assert found(boat) == [(("W1", "W2"), 2)]
