"""Each device from the side it is fed, and what lies behind."""

from __future__ import annotations

from model.survey import Survey
from tests.boat_builder import Boat


def test_a_device_of_a_load_has_one_side() -> None:
    boat = Boat().battery("G1").fuse("F1", 10).load("E1")
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "E1.+")
    (side,) = Survey(boat.diagram()).device_sides
    assert (side.item, side.rated_a, side.behind.loads) == ("F1", 10, {"E1"})


def test_a_device_between_two_batteries_has_two() -> None:
    boat = Boat().battery("G1").battery("G2").fuse("F1", 100)
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "G2.+")
    sides = Survey(boat.diagram()).device_sides
    assert {tuple(side.behind.batteries) for side in sides} == {("G1",), ("G2",)}


def test_a_device_in_the_negative_is_not_counted() -> None:
    boat = Boat().battery("G1").part("F1", "breaker", poles="-", rated_a=10).load("E1")
    boat.wire("W1", "G1.+", "E1.+").wire("W2", "E1.-", "F1.a", cores=("-",))
    boat.wire("W3", "F1.b", "G1.-", cores=("-",))
    assert Survey(boat.diagram()).device_sides == ()
