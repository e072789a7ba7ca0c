"""Polarity and volts come from a signed walk from the batteries, never from a label."""

from __future__ import annotations

from model.survey import Survey
from tests.boat_builder import Boat


def potential(survey: Survey, terminal: str):
    return survey.potentials[survey.graph.number[terminal]]


def test_both_posts_of_a_battery_and_what_hangs_on_them():
    survey = Survey(
        Boat().battery("G1").fuse("F1").load("E1").part("X2", "busbar", pole="-")
        .wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "E1.+")
        .wire("W3", "G1.-", "X2.s1", cores=("-",)).wire("W4", "E1.-", "X2.s2", cores=("-",))
        .diagram())
    assert potential(survey, "E1.+").side == "+" and potential(survey, "E1.+").nominal_v == 12
    assert potential(survey, "E1.-").side == "-" and potential(survey, "X2.s5").nominal_v == 0


def test_the_middle_of_a_series_string_is_known():
    survey = Survey(
        Boat(nominal_v=24).battery("G1").battery("G2").load("E1")
        .wire("W1", "G1.-", "G2.+", cores=("-",)).wire("W2", "G1.+", "E1.+").diagram())
    assert potential(survey, "G2.+").nominal_v == 12
    assert potential(survey, "G1.-").side == "+"
    assert potential(survey, "E1.+").nominal_v == 24
    assert potential(survey, "G2.-").side == "-"


def test_a_tap_has_the_volts_of_the_blocks_below_it():
    taps = ({"id": "mid", "after_block": 1},)
    survey = Survey(Boat(nominal_v=24).battery("G1", series_count=2, taps=taps).diagram())
    assert potential(survey, "G1.tap_mid").nominal_v == 12
    assert potential(survey, "G1.+").nominal_v == 24


def test_a_wire_run_backwards_does_not_turn_its_polarity():
    """A conductor drawn as '+' on the minus post is negative all the same."""
    survey = Survey(
        Boat().battery("G1").part("X1", "busbar", pole="+").wire("W1", "G1.-", "X1.s1").diagram())
    assert potential(survey, "X1.s3").side == "-"


def test_a_converter_gives_its_output_its_own_volts():
    survey = Survey(
        Boat(nominal_v=24).battery("G1", 24).part("T1", "dc_dc_converter", output_v=12)
        .load("E1").wire("W1", "G1.+", "T1.in+").wire("W2", "T1.out+", "E1.+").diagram())
    assert potential(survey, "E1.+").nominal_v == 12


def test_a_fragment_without_a_battery_stays_unknown():
    survey = Survey(
        Boat().fuse("F1").part("X1", "busbar").wire("W1", "F1.b", "X1.s1").diagram())
    assert potential(survey, "X1.s1").side == "unknown"


def test_unknown_volts_leave_the_side_known():
    boat = Boat().part("G1", "battery_bank").fuse("F1").wire("W1", "G1.+", "F1.a")
    behind = potential(Survey(boat.diagram()), "F1.b+")
    assert behind.side == "+" and behind.nominal_v is None
