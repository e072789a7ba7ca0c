"""Points with two feeds: two fuses that are live, through diodes or not."""

from __future__ import annotations

from model.analysis.feeds import FedPoint, fed_points
from model.survey import Survey
from tests.boat_builder import Boat


def boat() -> Boat:
    """Return a load behind fuse F1 of bank G1, and a fuse F2 at bank G2."""
    return (Boat().battery("G1").battery("G2").fuse("F1").fuse("F2").load("E1")
            .wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "E1.+").wire("W3", "G2.+", "F2.a"))


def points(made: Boat) -> tuple[FedPoint, ...]:
    survey = Survey(made.diagram())
    return fed_points(survey.graph, survey.banks)


def test_one_fuse_is_one_feed() -> None:
    assert points(boat()) == ()


def test_two_live_fuses_are_two() -> None:
    (one,) = points(boat().switch("Q1", "load_switch").wire("W4", "F2.b", "Q1.a").wire(
        "W5", "Q1.b", "E1.+"))
    assert (one.loads, one.devices, one.by_diodes) == (("E1",), ("F1", "F2"), False)
    assert one.last_leads == ("W2", "W4")


def test_a_switch_that_stands_open_parts_the_second() -> None:
    assert points(boat().switch("Q1", "load_switch", normal="open").wire(
        "W4", "F2.b", "Q1.a").wire("W5", "Q1.b", "E1.+")) == ()


def test_a_diode_in_each_feed_is_told() -> None:
    made = (Boat().battery("G1").battery("G2").fuse("F1").fuse("F2").load("E1")
            .part("R1", "diode_isolator").part("R2", "diode_isolator")
            .wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "R1.in").wire("W3", "R1.out1", "E1.+")
            .wire("W4", "G2.+", "F2.a").wire("W5", "F2.b", "R2.in").wire("W6", "R2.out1", "E1.+"))
    (one,) = points(made)
    assert one.by_diodes
