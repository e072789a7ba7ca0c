"""What volts start and stop: what comes to no rest, and what is told of it."""

from __future__ import annotations

import pytest

from model.analysis.design_current import CHARGING
from model.analysis.unsteady import unsteady
from model.survey import Survey
from tests.model.analysis.charged_boats import charged_from_the_engine


def at_the_end_of(length_m: float) -> Survey:
    """Return a boat whose charger starts at 13.3 V and stops below 12.8 V, behind 6 mm2."""
    return Survey(charged_from_the_engine(
        "6 mm2", length_m, start_above_v=13.3, stop_below_v=12.8).diagram())


def test_a_charger_at_the_end_of_a_thin_lead_comes_to_no_rest():
    """By hand: 33 A over 12 m of 6 mm2, 3.3 mohm/m, take 1.3 V of 13.9 V: 12.6 V are left."""
    assert unsteady(at_the_end_of(12)) == {"T1": CHARGING}
    assert unsteady(at_the_end_of(3)) == {}


def test_it_is_told_at_work_for_then_its_lead_carries_most():
    point = at_the_end_of(12).duty.points[CHARGING]
    assert point.conductors["W3"] == pytest.approx(30, rel=1e-2)
    assert point.terminals["T1.in+"] - point.terminals["T1.-"] < 12.8


def test_what_stopped_before_the_circle_is_not_told_at_work():
    """A second charger that stops at once and stays so, beside one that comes to no rest."""
    boat = charged_from_the_engine("6 mm2", 12, start_above_v=13.3, stop_below_v=12.8)
    boat.part("T2", "dc_dc_charger", rated_output_a=30, input_v=12, absorption_v=14.4,
              start_above_v=16, stop_below_v=15, efficiency=0.9)
    boat.wire("W4", "G1.+", "T2.in+", "35 mm2", length_m=1)
    boat.wire("W5", "T2.out+", "G2.+", "35 mm2", length_m=1)
    survey = Survey(boat.diagram())
    assert unsteady(survey) == {"T1": CHARGING}
    point = survey.duty.points[CHARGING]
    assert point.conductors["W3"] == pytest.approx(30, rel=1e-2)
    assert abs(point.conductors["W5"]) < 0.01
