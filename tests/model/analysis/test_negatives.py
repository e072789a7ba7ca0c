"""Negatives: what a device in one cuts off, drawn or mirrored."""

from __future__ import annotations

from model.analysis.negatives import earthing, negative_cuts, sole_disconnect_of
from model.graph import TerminalGraph
from model.survey import Survey
from tests.boat_builder import Boat

MINUS = {"cores": ("-",)}


def two_loads() -> Boat:
    """Return two loads whose drawn returns meet on a bar X2."""
    return (Boat(returns="drawn").battery("G1").load("E1").load("E2").busbar("X2", pole="-")
            .wire("W1", "G1.+", "E1.+").wire("W2", "E1.+", "E2.+")
            .wire("N1", "E1.-", "X2.s1", **MINUS).wire("N2", "E2.-", "X2.s2", **MINUS))


def test_a_fuse_in_a_common_return_cuts_all_loads_on_it() -> None:
    boat = two_loads().fuse("F9", poles="-").wire("N3", "X2.s3", "F9.a", **MINUS).wire(
        "N4", "F9.b", "G1.-", **MINUS)
    (cut,) = negative_cuts(TerminalGraph(boat.diagram()))
    assert (cut.part, cut.loads, cut.switch, cut.mirrored) == ("F9", ("E1", "E2"), False, False)


def test_a_device_of_both_poles_cuts_no_negative_alone() -> None:
    boat = two_loads().fuse("F9", poles="both").wire("N3", "X2.s3", "F9.a", **MINUS).wire(
        "N4", "F9.b", "G1.-", **MINUS)
    assert negative_cuts(TerminalGraph(boat.diagram())) == ()


def test_a_device_in_a_ring_cuts_nothing() -> None:
    boat = two_loads().fuse("F9", poles="-").wire("N3", "X2.s3", "F9.a", **MINUS).wire(
        "N4", "F9.b", "G1.-", **MINUS).wire("N5", "X2.s4", "G1.-", **MINUS)
    assert negative_cuts(TerminalGraph(boat.diagram())) == ()


def test_a_device_in_an_implied_return_cuts_what_its_line_feeds() -> None:
    boat = Boat().battery("G1").load("E1").switch("S1", "load_switch", poles="-").wire(
        "W1", "G1.+", "S1.a").wire("W2", "S1.b", "E1.+")
    survey = Survey(boat.diagram())
    (cut,) = survey.negative_cuts
    assert (cut.loads, cut.switch, cut.mirrored) == (("E1",), True, True)
    assert sole_disconnect_of(survey, cut) == ("E1",)


def test_a_breaker_in_the_positive_parts_the_load_too() -> None:
    boat = Boat().battery("G1").load("E1").part("F1", "breaker").switch(
        "S1", "load_switch", poles="-").wire("W1", "G1.+", "F1.a").wire(
        "W2", "F1.b", "S1.a").wire("W3", "S1.b", "E1.+")
    survey = Survey(boat.diagram())
    assert sole_disconnect_of(survey, survey.negative_cuts[0]) == ()


def test_earthing_is_that_of_the_parts_own_volts() -> None:
    boat = Boat(nominal_v=12).system("S2", 24, earthing="insulated").battery("G1").battery(
        "G2", series_count=2)
    survey = Survey(boat.diagram())
    assert earthing(survey, "G1") == ("negative_earthed", "S1")
    assert earthing(survey, "G2") == ("insulated", "S2")


def test_a_main_switch_in_a_banks_negative_cuts_the_bank() -> None:
    boat = two_loads().switch("Q1", poles="-").wire("N3", "X2.s3", "Q1.a", **MINUS).wire(
        "N4", "Q1.b", "G1.-", **MINUS)
    (cut,) = negative_cuts(TerminalGraph(boat.diagram()))
    assert (cut.batteries, cut.loads) == (("G1",), ("E1", "E2"))


def test_between_two_banks_the_side_with_fewer_loads_is_cut_off() -> None:
    boat = two_loads().battery("G2").fuse("F9", poles="-").wire("N3", "X2.s3", "G1.-", **MINUS)
    boat.wire("N4", "X2.s4", "F9.a", **MINUS).wire("N5", "F9.b", "G2.-", **MINUS)
    (cut,) = negative_cuts(TerminalGraph(boat.diagram()))
    assert (cut.batteries, cut.loads) == (("G2",), ())


def test_loads_of_a_panel_return_over_its_bar() -> None:
    boat = (Boat().battery("G1").panel("P1", {}, {}).load("E1").load("E2").fuse("F9", poles="-")
            .wire("W1", "G1.+", "P1.in").wire("W2", "P1.w1", "E1.+").wire("W3", "P1.w2", "E2.+")
            .wire("N1", "P1.-", "F9.a", **MINUS).wire("N2", "F9.b", "G1.-", **MINUS))
    (cut,) = negative_cuts(TerminalGraph(boat.diagram()))
    assert cut.loads == ("E1", "E2")
