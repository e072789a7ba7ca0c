"""What volts start and stop: what comes to no rest, and what is told of it."""

from __future__ import annotations

import pytest

from model.analysis.design_current import CHARGING
from model.analysis.unsteady import unsteady
from model.survey import Survey
from tests.boat_builder import Boat


def charged_from_the_engine(length_m: float) -> Survey:
    """Return a boat whose DC-DC charger of 30 A starts at 13.3 V and stops below 12.8 V."""
    boat = (
        Boat().battery("G1", internal_resistance_ohm=0.005, rest_v=12.7, max_charge_a=18)
        .battery("G2", internal_resistance_ohm=0.002, rest_v=12.8, max_charge_a=120)
        .part("M1", "engine_block")
        .part("G3", "alternator", rated_a=90, set_v=14.4, driven_by="M1")
        .part("T1", "dc_dc_charger", rated_output_a=30, input_v=12, absorption_v=14.4,
              start_above_v=13.3, stop_below_v=12.8, efficiency=0.9)
        .wire("W1", "G3.+", "G1.+", "35 mm2", length_m=1)
        .wire("W2", "G1.+", "T1.in+", "6 mm2", length_m=length_m)
        .wire("W3", "T1.out+", "G2.+", "35 mm2", length_m=1)
    )
    return Survey(boat.diagram())


def test_a_charger_at_the_end_of_a_thin_lead_comes_to_no_rest():
    """By hand: 33 A over 12 m of 6 mm2, 3.3 mohm/m, take 1.3 V of 13.9 V: 12.6 V are left."""
    assert unsteady(charged_from_the_engine(12)) == {"T1": CHARGING}
    assert unsteady(charged_from_the_engine(3)) == {}


def test_it_is_told_at_work_for_then_its_lead_carries_most():
    point = charged_from_the_engine(12).duty.points[CHARGING]
    assert point.conductors["W3"] == pytest.approx(30, rel=1e-2)
    assert point.terminals["T1.in+"] - point.terminals["T1.-"] < 12.8
