"""Midpoints of series banks and what hangs on them."""

from __future__ import annotations

from model.analysis.midpoints import midpoints
from model.survey import Survey
from tests.boat_builder import Boat


def test_the_point_between_two_strings_is_one_midpoint() -> None:
    boat = Boat(nominal_v=24).battery("G1").battery("G2").battery("G3").battery("G4")
    boat.wire("W1", "G1.+", "G2.-").wire("W2", "G3.+", "G4.-").wire("W3", "G1.+", "G3.+")
    found = list(midpoints(Survey(boat.diagram()).graph))
    assert [(point.battery, point.users) for point in found] == [("G1", ())]


def test_each_tap_is_a_midpoint_with_its_own_users() -> None:
    boat = Boat().battery("G1", series_count=4, taps=(
        {"id": "a", "after_block": 1}, {"id": "b", "after_block": 2}))
    boat.load("E1").part("A1", "equaliser").part("P1", "monitor")
    boat.wire("W1", "G1.tap_a", "E1.+").wire("W2", "G1.tap_b", "A1.mid")
    boat.wire("W3", "G1.tap_b", "P1.+")
    found = [(point.below_count, point.users, point.equalisers)
             for point in midpoints(Survey(boat.diagram()).graph)]
    assert found == [(1, ("E1",), ()), (2, (), ("A1",))]


def test_a_common_negative_is_no_midpoint() -> None:
    boat = Boat().battery("G1").battery("G2").wire("W1", "G1.-", "G2.-", cores=("-",))
    assert list(midpoints(Survey(boat.diagram()).graph)) == []
