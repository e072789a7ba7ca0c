"""How a load without a switch of its own is turned off."""

from __future__ import annotations

from model.analysis.load_switches import pulled
from model.survey import Survey
from tests.boat_builder import Boat


def test_a_fuse_alone_is_told_and_a_switch_or_breaker_is_seen() -> None:
    boat = Boat().battery("G1").fuse("F1", 10).part("F2", "breaker", rated_a=10)
    boat.switch("S1", "load_switch")
    boat.load("E1", own_switch=False).load("E2", own_switch=False).load("E3", own_switch=False)
    boat.load("E4")
    boat.wire("W1", "F1.b", "E1.+").wire("W2", "F2.b", "E2.+").wire("W3", "F1.b", "S1.a")
    boat.wire("W4", "S1.b", "E3.+").wire("W5", "F1.b", "E4.+")
    found = {one.load: one.fuse for one in pulled(Survey(boat.diagram()).graph)}
    assert found == {"E1": "F1", "E2": "", "E3": ""}
