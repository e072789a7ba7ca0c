"""Conductors drawn side by side between the same two points."""

from __future__ import annotations

from model.survey import Survey
from tests.boat_builder import Boat


def test_two_cables_between_bars_are_beside_each_other_whatever_their_studs() -> None:
    boat = Boat().busbar("X1").busbar("X2").load("E1")
    boat.wire("W1", "X1.s1", "X2.s1").wire("W2", "X2.s3", "X1.s2").wire("W3", "X2.s2", "E1.+")
    beside = Survey(boat.diagram()).cables_beside
    assert beside == {"W1": ("W1", "W2"), "W2": ("W1", "W2")}


def test_a_sense_wire_beside_a_power_cable_is_no_parallel_cable() -> None:
    boat = Boat().battery("G1").busbar("X1")
    boat.wire("W1", "G1.+", "X1.s1").wire("W2", "G1.+", "X1.s2", purpose="sense")
    assert Survey(boat.diagram()).cables_beside == {}
