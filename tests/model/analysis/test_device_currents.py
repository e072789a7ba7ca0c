"""Currents of devices by what loads draw, and loads that are never on together."""

from __future__ import annotations

import pytest

from model.survey import Survey
from tests.boat_builder import Boat

BANK = {"internal_resistance_ohm": 0.005, "rest_v": 12.6}


def boat(**more: object) -> Boat:
    made = Boat().battery("G1", **BANK).fuse("F1", 50).busbar("X1")
    made.part("G5", "alternator", rated_a=80)
    made.load("E1", current_a=12, nominal_v=12, **more)
    made.load("E2", current_a=7, nominal_v=12, **more)
    made.wire("W1", "G1.+", "F1.a", "35 mm2", length_m=0.2)
    made.wire("W2", "F1.b", "X1.s1", "35 mm2", length_m=1)
    made.wire("W3", "X1.s2", "E1.+", "6 mm2", length_m=1)
    made.wire("W4", "X1.s3", "E2.+", "6 mm2", length_m=1)
    return made.wire("W5", "X1.s4", "G5.+", "35 mm2", length_m=1)


def test_charging_current_is_left_out() -> None:
    survey = Survey(boat().diagram())
    assert survey.drawn_by_loads["F1"].current_a == pytest.approx(19, rel=1e-4)
    assert survey.duty.conductors["W2"].current_a > 70


def test_of_loads_never_together_only_one_runs_and_each_gets_its_case() -> None:
    survey = Survey(boat(never_with="one").diagram())
    assert survey.drawn_by_loads["F1"].current_a == pytest.approx(12, rel=1e-4)
    assert survey.duty.conductors["W4"].current_a == pytest.approx(7, rel=1e-4)
    assert "E2 instead of others" in survey.duty.cases


def test_a_short_time_load_rests_its_whole_group() -> None:
    made = boat(never_with="one").load(
        "E3", "windlass", current_a=40, nominal_v=12, never_with="one")
    made.wire("W6", "X1.s5", "E3.+", "16 mm2", length_m=1)
    survey = Survey(made.diagram())
    assert survey.drawn_by_loads["F1"].case == "E3 running"
    assert survey.drawn_by_loads["F1"].current_a == pytest.approx(40, rel=1e-4)
