"""What `solve` and `fault` add to the figures: how long a bank lasts, and margins in a fault."""

from __future__ import annotations

import pytest

from app.solving import fault_json, solve_json, solve_text
from model.analysis.battery_model import peukert_ah
from tests.boat_builder import Boat

EXPONENT = 1.25  # the middle of 1.2 and 1.3 for flooded cells, battery_chemistry.csv, PEUKERT-1


def boat(**bank: object) -> Boat:
    return (
        Boat().battery("G1", internal_resistance_ohm=0.005, **bank).fuse("F1", 100, interrupt_a=500)
        .load("E1", current_a=20, nominal_v=12)
        .wire("W1", "G1.+", "F1.a", "25 mm2", length_m=0.5, insulation_c=90)
        .wire("W2", "F1.b", "E1.+", "10 mm2", length_m=4)
        .mode("anchor", state_of_charge={"G1": 0.5})
    )


def test_a_discharging_bank_lasts_by_peukerts_law_from_its_charge():
    made = boat(chemistry="flooded", capacity_ah=200.0).diagram()
    part = solve_json(made, "anchor", {}, [], {})["components"]["G1"]
    assert part["state"] == "discharging"
    by_hand = 0.5 * peukert_ah(200, 20, EXPONENT) / 20
    assert part["lasts_h"] == pytest.approx(by_hand, abs=0.01)
    assert f"discharging, lasts {by_hand:.3g} h" in solve_text(
        solve_json(made, "anchor", {}, [], {}))


@pytest.mark.parametrize("bank", [{}, {"chemistry": "flooded"}, {"capacity_ah": 200.0}])
def test_a_bank_of_which_too_little_is_known_says_nothing_of_how_long(bank):
    answer = solve_json(boat(**bank).diagram(), None, {}, [], {})
    assert "lasts_h" not in answer["components"]["G1"]


def test_a_fault_says_what_each_device_and_conductor_makes_of_it():
    answer = fault_json(boat(rest_v=12.6).diagram(), "E1.+", None)
    device, = answer["devices"]
    assert set(device) == {
        "id", "i_max_a", "interrupt_a", "breaks", "i_min_a", "rated_a", "will_trip"}
    assert device["id"] == "F1" and device["breaks"] is False and device["will_trip"] is True
    assert device["i_max_a"] == pytest.approx(answer["i_max_a"], rel=1e-3)
    assert answer["withstand_s"]["W1"] > 0 and answer["withstand_s"]["W2"] is None
