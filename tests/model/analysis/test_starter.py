"""What is starter circuit and what is not: the two first cases, and the ways around them."""

from __future__ import annotations

from model.survey import Survey
from rules.engine import report_on
from tests.boat_builder import Boat


def two_banks_with_a_link() -> Boat:
    """Start bank with its switch and starter; house bank; an emergency link between both."""
    return (
        Boat().battery("G1", duty="start").battery("G2", duty="house")
        .switch("Q1").switch("Q9", "emergency_link")
        .part("X1", "stud").part("X2", "busbar").part("M2", "starter")
        .wire("W1", "G1.+", "X1.s", length_m=0.5).wire("W2", "X1.s", "Q1.a", length_m=0.5)
        .wire("W3", "Q1.b", "M2.+", length_m=1)
        .wire("W4", "X1.s", "Q9.a", length_m=0.6).wire("W5", "Q9.b", "X2.s1", length_m=0.6)
    )


def test_a_house_feed_without_a_fuse_is_found_beside_an_emergency_link_and_the_link_is_not():
    diagram = (
        two_banks_with_a_link().load("E1").wire("W6", "G2.+", "X2.s2", length_m=3)
        .wire("W7", "X2.s3", "E1.+", length_m=2).diagram()
    )
    survey = Survey(diagram)
    assert {"W1", "W2", "W3", "W4", "W5"} == survey.starter_circuit
    findings = [f for f in report_on(survey).findings if f.number == "1.1"]
    assert [f.where[0] for f in findings] == ["W6"]
    assert not any({"W4", "W5", "Q9"} & set(f.where) for f in report_on(survey).findings
                   if f.topic == "overcurrent" and f.number in ("1.1", "1.2", "1.14"))


def test_both_ways_of_a_selector_are_starter_circuit():
    survey = Survey(
        Boat().battery("G1").battery("G2").part("Q1", "selector_switch").part("M2", "starter")
        .wire("W1", "G1.+", "Q1.1").wire("W2", "G2.+", "Q1.2").wire("W3", "Q1.c", "M2.+").diagram())
    assert survey.starter_circuit == {"W1", "W2", "W3"}


def test_a_fuse_ends_the_starter_circuit():
    survey = Survey(
        Boat().battery("G1").fuse("F1").part("M2", "starter")
        .wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "M2.+").diagram())
    assert survey.starter_circuit == set()


def test_a_loop_beside_the_way_is_not_starter_circuit():
    """Two parallel cables to a panel form a ring, but no way to the starter leads through it."""
    survey = Survey(
        Boat().battery("G1").part("X1", "stud").part("X2", "busbar").part("M2", "starter")
        .wire("W1", "G1.+", "X1.s").wire("W2", "X1.s", "M2.+")
        .wire("W3", "X1.s", "X2.s1").wire("W4", "X1.s", "X2.s2").diagram())
    assert survey.starter_circuit == {"W1", "W2"}


def test_parallel_starter_cables_both_count():
    survey = Survey(
        Boat().battery("G1").part("M2", "starter")
        .wire("W1", "G1.+", "M2.+").wire("W2", "G1.+", "M2.+").diagram())
    assert survey.starter_circuit == {"W1", "W2"}


def test_a_usually_open_switch_is_no_way_to_the_starter():
    survey = Survey(
        Boat().battery("G1").switch("Q1", normal="open").part("M2", "starter")
        .wire("W1", "G1.+", "Q1.a").wire("W2", "Q1.b", "M2.+").diagram())
    assert survey.starter_circuit == set()
