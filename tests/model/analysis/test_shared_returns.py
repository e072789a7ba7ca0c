"""Negatives that loads of two voltages share, and what each system sends through them."""

from __future__ import annotations

import pytest

from model.analysis.shared_returns import most_a, shared_returns
from model.survey import Survey
from tests.boat_builder import Boat

MINUS = {"cores": ("-",)}


def boat(home: str) -> Boat:
    """Return a 12 V load and a 24 V load; the returns of both meet on X9, N3 leads home."""
    return (Boat(returns="drawn").battery("G1").battery("G2", series_count=2)
            .busbar("X9", pole="-").busbar("X2", pole="-").load("E1").load("M1", "windlass")
            .wire("W1", "G1.+", "E1.+").wire("W2", "G2.+", "M1.+")
            .wire("N1", "E1.-", "X9.s1", **MINUS).wire("N2", "M1.-", "X9.s2", **MINUS)
            .wire("N3", "X9.s3", "X2.s1", **MINUS).wire("N4", "G1.-", "X2.s2", **MINUS)
            .wire("N5", "G2.-", home, **MINUS))


def test_the_conductor_that_both_need_is_told() -> None:
    (one,) = shared_returns(Survey(boat("X2.s3").diagram()))
    assert one.conductor == "N3"
    assert one.loads == {12: ("E1",), 24: ("M1",)}


def test_none_is_shared_when_one_has_its_bank_on_the_same_side() -> None:
    assert list(shared_returns(Survey(boat("X9.s4").diagram()))) == []


def test_of_what_runs_for_short_times_the_largest_counts() -> None:
    survey = Survey(boat("X2.s3").diagram())
    currents = {"E1": 5.0, "M1": 80.0}
    assert most_a(survey, ("E1", "M1"), currents) == pytest.approx(85)
    assert most_a(survey, ("E1",), currents) == pytest.approx(5)
