"""Design currents: each duty case wins where it should, and figures are solved, never summed."""

from __future__ import annotations

import math

import pytest

from model.analysis.design_current import design_currents, duty_cases, short_time_loads
from model.survey import Survey
from model.tables import resistance_ohm_per_km
from tests.boat_builder import Boat, size

LIGHTS_A, PUMP_A, WINDLASS_A, ALTERNATOR_A = 6.0, 4.0, 90.0, 55.0


def boat() -> Boat:
    """A bank with continuous loads, a windlass of its own, and an alternator straight to it."""
    return (
        Boat().battery("G1", internal_resistance_ohm=0.004, rest_v=12.5, max_charge_a=200)
        .part("X1", "busbar", pole="+", stud_count=8)
        .part("M1", "engine_block")
        .part("G3", "alternator", rated_a=ALTERNATOR_A, set_v=14.4, driven_by="M1")
        .load("E1", current_a=LIGHTS_A, nominal_v=12).load("E2", current_a=PUMP_A, nominal_v=12)
        .part("M5", "windlass", current_a=WINDLASS_A, nominal_v=12)
        .wire("W1", "G1.+", "X1.s1", "70 mm2", length_m=1)
        .wire("W2", "X1.s2", "E1.+", "4 mm2", length_m=5)
        .wire("W3", "X1.s3", "E2.+", "4 mm2", length_m=5)
        .wire("W4", "X1.s4", "M5.+", "35 mm2", length_m=8)
        .wire("W5", "G3.+", "X1.s5", "16 mm2", length_m=2)
    )


def ohm(text: str, length_m: float) -> float:
    return resistance_ohm_per_km(size(text)).value * length_m / 1000


def test_the_windlass_is_a_case_of_its_own_and_the_continuous_loads_another():
    survey = Survey(boat().diagram())
    assert short_time_loads(survey) == ["M5"]
    assert [name for name, _ in duty_cases(survey)] == [
        "continuous loads, nothing charging", "M5 running", "all sources into flat banks"]


def test_each_case_wins_where_it_should():
    found = design_currents(Survey(boat().diagram())).conductors
    assert found["W4"].case == "M5 running"
    assert found["W4"].current_a == pytest.approx(WINDLASS_A, rel=1e-4)
    assert found["W2"].current_a == pytest.approx(LIGHTS_A, rel=1e-4)
    assert found["W5"].case == "all sources into flat banks"
    assert found["W5"].current_a == pytest.approx(ALTERNATOR_A, rel=1e-3)


def test_a_short_time_load_comes_on_top_of_its_continuous_neighbours():
    feeder = design_currents(Survey(boat().diagram())).conductors["W1"]
    assert feeder.case == "M5 running"
    assert feeder.current_a == pytest.approx(WINDLASS_A + LIGHTS_A + PUMP_A, rel=1e-4)
    assert feeder.drop_v == pytest.approx(feeder.current_a * ohm("70 mm2", 1), rel=1e-3)


def test_without_a_windlass_the_charging_current_sizes_the_banks_lead():
    made = boat().diagram()
    less = made.replaced(
        components={k: v for k, v in made.components.items() if k != "M5"},
        conductors={k: v for k, v in made.conductors.items() if k != "W4"})
    lead = design_currents(Survey(less)).conductors["W1"]
    assert lead.case == "all sources into flat banks"
    assert lead.current_a == pytest.approx(ALTERNATOR_A, rel=1e-3)


def test_a_usual_mode_is_a_case_and_an_unusual_one_is_not():
    made = boat().mode("passage", load_current_a={"E1": 40.0}).mode(
        "trial", load_current_a={"E1": 80.0}, usual=False)
    duty = design_currents(Survey(made.diagram()))
    assert duty.conductors["W2"].case == "mode passage"
    assert duty.conductors["W2"].current_a == pytest.approx(40, rel=1e-4)
    assert "mode trial" not in duty.cases


def test_the_worst_volts_at_a_load_are_those_under_the_windlass():
    duty = design_currents(Survey(boat().diagram()))
    worst = duty.loads["E1"]
    assert worst.case == "M5 running"
    total = WINDLASS_A + LIGHTS_A + PUMP_A
    by_hand = 12.5 - total * (0.004 + 2 * ohm("70 mm2", 1)) - 2 * LIGHTS_A * ohm("4 mm2", 5)
    assert worst.volts == pytest.approx(by_hand, abs=0.005)


def test_a_long_thin_lead_gives_a_thrusters_solved_current_not_its_rating():
    """By hand: V (E - V) / R = P has its upper answer at V = (E + sqrt(E^2 - 4 P R)) / 2.

    1.5 kW at 12 V would be 125 A by its rating; behind 4 m of 25 mm2 out and home it draws more.
    With 3 kW behind 14 m of 16 mm2 nothing above half its volts is left: below that the motor is
    6^2 / 3000 ohm, and 225 A flow, not 250 A.
    """
    def case(watts: float, text: str, length_m: float) -> float:
        made = (
            Boat().battery("G1", internal_resistance_ohm=0.01, rest_v=12.6)
            .part("M3", "thruster", power_w=watts, nominal_v=12)
            .wire("W1", "G1.+", "M3.+", text, length_m=length_m)
        )
        design = design_currents(Survey(made.diagram())).conductors["W1"]
        assert design.case == "M3 running"
        return design.current_a

    loop = 0.01 + 2 * ohm("25 mm2", 4)
    volts = (12.6 + math.sqrt(12.6**2 - 4 * 1500 * loop)) / 2
    assert case(1500, "25 mm2", 4) == pytest.approx(1500 / volts, rel=1e-3)
    starved = 12.6 / (0.01 + 2 * ohm("16 mm2", 14) + 6**2 / 3000)
    assert case(3000, "16 mm2", 14) == pytest.approx(starved, rel=2e-3)
    assert starved < 3000 / 12


def test_a_missing_length_is_said_and_the_rest_is_still_answered():
    made = boat().load("E3", current_a=2, nominal_v=12).wire("W9", "X1.s6", "E3.+", "2.5 mm2")
    duty = design_currents(Survey(made.diagram()))
    assert "cannot tell: length of W9 missing" in [p.sentence for p in duty.problems]
    assert duty.conductors["W9"].current_a == pytest.approx(2, rel=1e-4)
