"""Which fields settle what a hand can part from a bank, and what stays live whatever they say."""

from __future__ import annotations

from typing import Any

from model.analysis.unswitched import unsaid_switches
from model.survey import Survey
from tests.boat_builder import Boat


def told(**breaker: Any) -> tuple[list[str], frozenset[str]]:
    """Return the answer for one load before a breaker and one behind it."""
    survey = Survey(
        Boat().battery("G1").part("F1", "breaker", rated_a=100, **breaker).load("E1").load("M1")
        .wire("W1", "G1.+", "F1.a").wire("W2", "F1.a", "E1.+").wire("W3", "F1.b", "M1.+")
        .diagram())
    return unsaid_switches(survey.graph, survey.banks[0])


def test_a_breaker_of_which_nobody_said_may_part_what_is_behind_it() -> None:
    assert told() == (["F1.switch_duty"], {"E1"})


def test_what_is_said_is_not_asked_for() -> None:
    assert told(switch_duty=False) == ([], {"E1", "M1"})
    assert told(switch_duty=True) == ([], {"E1"})
