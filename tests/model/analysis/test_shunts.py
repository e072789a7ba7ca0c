"""Shunts: the side of the bank, and what leaves it before the shunt."""

from __future__ import annotations

from typing import Any

from model.analysis.shunts import bypasses, carries_cranking, shunted_banks
from model.survey import Survey
from tests.boat_builder import Boat

MINUS = {"cores": ("-",)}


def boat(**shunt: Any) -> Boat:
    return (Boat(returns="drawn").battery("G1").battery("G2").part("B1", "shunt", **shunt)
            .busbar("X2", pole="-").load("E1").part("M1", "starter")
            .wire("W1", "G1.+", "E1.+").wire("W2", "G2.+", "M1.+")
            .wire("N1", "B1.b", "G1.-", **MINUS).wire("N2", "B1.a", "X2.s1", **MINUS))


def test_the_banks_side_is_the_one_that_reaches_its_minus() -> None:
    survey = Survey(boat().wire("N3", "E1.-", "X2.s2", **MINUS).diagram())
    (one,) = shunted_banks(survey)
    names = survey.graph.names
    assert (one.bank.id, names[one.battery_node], names[one.system_node]) == ("G1", "B1.b", "B1.a")
    assert list(bypasses(survey)) == []


def test_a_shunt_in_the_positive_counts_no_negative() -> None:
    assert list(shunted_banks(Survey(boat(poles="+").diagram()))) == []


def test_a_load_before_the_shunt_bypasses_it() -> None:
    survey = Survey(boat().wire("N3", "E1.-", "G1.-", **MINUS).diagram())
    (one,) = bypasses(survey)
    assert (one.conductor, one.loads, one.sources, one.around) == ("N3", ("E1",), (), False)


def test_a_cable_around_is_told_as_such() -> None:
    survey = Survey(boat().wire("N3", "G1.-", "X2.s2", **MINUS).diagram())
    (one,) = bypasses(survey)
    assert (one.conductor, one.around) == ("N3", True)


def test_cranking_passes_only_where_both_negatives_meet_over_the_shunt() -> None:
    across = Survey(boat().wire("N3", "G2.-", "G1.-", **MINUS).wire(
        "N4", "M1.-", "X2.s2", **MINUS).diagram())
    assert carries_cranking(across, next(shunted_banks(across))) == ("M1",)
    beside = Survey(boat().wire("N3", "G2.-", "X2.s3", **MINUS).wire(
        "N4", "M1.-", "X2.s2", **MINUS).diagram())
    assert carries_cranking(beside, next(shunted_banks(beside))) == ()
