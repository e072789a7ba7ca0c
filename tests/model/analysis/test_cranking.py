"""The ways a starter is cranked, against twice the length times the sheet's resistance and I."""

from __future__ import annotations

import pytest

from model.analysis.cranking import Turned
from model.survey import Survey
from tests.boat_builder import Boat

OHM_PER_KM = 0.393  # plain class 5 of 50 mm² at 20 °C, at most: IEC 60228 table 3
CRANKING_A = 200.0


def boat() -> Boat:
    """Two banks and a starter whose negatives all end at the post of the start battery G1."""
    minus = {"cores": ("-",)}
    return (
        Boat(returns="drawn").part("M1", "starter", cranking_a=CRANKING_A)
        .battery("G1", internal_resistance_ohm=0.004).battery("G2", internal_resistance_ohm=0.004)
        .wire("N1", "M1.-", "G1.-", "50 mm2", length_m=1, **minus)
        .wire("N2", "G1.-", "G2.-", "50 mm2", length_m=3, **minus)
    )


def told(made: Boat) -> dict[Turned | None, float]:
    return {one.turned: one.drop.drop_v for one in Survey(made.diagram()).cranked}


def expected_v(length_m: float) -> object:
    return pytest.approx(CRANKING_A * OHM_PER_KM * length_m / 1000, rel=0.03)


def test_each_bank_alone_is_judged_at_a_selector() -> None:
    made = (boat().part("Q1", "selector_switch", normal_position="1")
            .wire("W1", "G1.+", "Q1.1", "50 mm2", length_m=1)
            .wire("W2", "G2.+", "Q1.2", "50 mm2", length_m=4)
            .wire("W3", "Q1.c", "M1.+", "50 mm2", length_m=2))
    assert told(made) == {None: expected_v(1 + 2 + 1), Turned("M1", "Q1", "2"): (
        expected_v(4 + 2 + 1 + 3))}


def test_by_a_link_the_battery_in_need_gives_nothing_and_its_post_still_joins() -> None:
    made = (boat().switch("Q1", "emergency_link")
            .wire("W1", "G1.+", "M1.+", "50 mm2", length_m=1)
            .wire("W2", "G2.+", "Q1.a", "50 mm2", length_m=4)
            .wire("W3", "Q1.b", "G1.+", "50 mm2", length_m=2))
    assert told(made) == {None: expected_v(1 + 1), Turned("M1", "Q1", "on", frozenset({"G1"})): (
        expected_v(4 + 2 + 1 + 1 + 3))}


def test_no_switch_before_the_starter_leaves_one_way() -> None:
    made = (boat().switch("Q1")
            .wire("W1", "G1.+", "Q1.a", "50 mm2", length_m=1)
            .wire("W2", "Q1.b", "M1.+", "50 mm2", length_m=1))
    assert list(told(made)) == [None]


def test_a_switch_that_changes_nothing_for_the_starter_is_not_tried() -> None:
    made = (boat().switch("Q1", "emergency_link")
            .wire("W1", "G1.+", "M1.+", "50 mm2", length_m=1)
            .wire("W2", "G2.+", "Q1.a", "50 mm2", length_m=4))
    assert list(told(made)) == [None]
