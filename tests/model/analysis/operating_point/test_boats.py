"""Operating points of drawn boats: returns, case returns, relays, splitters, several systems."""

from __future__ import annotations

import math

import pytest

from model.analysis.operating_point.converters import EFFICIENCY
from model.survey import Survey
from model.tables import resistance_ohm_per_km
from tests.boat_builder import Boat, size
from tests.model.analysis.charged_boats import charged_from_the_engine
from tests.model.analysis.operating_point.balanced import point

SMALL_OHM = 3e-5  # contacts are floored at 1e-5 ohm; three of them in a way


def ohm(text: str, length_m: float) -> float:
    return resistance_ohm_per_km(size(text)).value * length_m / 1000


def battery(boat: Boat, item: str = "G1", volts: float = 12.6, **fields: object) -> Boat:
    return boat.battery(item, internal_resistance_ohm=0.01, rest_v=volts, **fields)


def test_an_implied_return_counts_as_much_as_the_feed():
    boat = battery(Boat()).load("E1", current_a=10, nominal_v=12).wire(
        "W1", "G1.+", "E1.+", "6 mm2", length_m=5)
    found = point(Survey(boat.diagram()))
    expected = 12.6 - 10 * (0.01 + 2 * ohm("6 mm2", 5))
    across = found.terminals["E1.+"] - found.terminals["E1.-"]
    assert across == pytest.approx(expected, abs=10 * SMALL_OHM)
    assert found.conductors["W1"] == pytest.approx(10, rel=1e-6)


def test_a_feeder_of_12_m_and_a_branch_of_4_m_drop_like_32_m():
    boat = (
        battery(Boat()).panel("P1", {"rated_a": 20}).load("E1", current_a=5, nominal_v=12)
        .wire("W1", "G1.+", "P1.in", "10 mm2", length_m=12)
        .wire("W2", "P1.w1", "E1.+", "10 mm2", length_m=4)
    )
    found = point(Survey(boat.diagram()))
    across = found.terminals["E1.+"] - found.terminals["E1.-"]
    lost = 12.6 - 5 * 0.01 - across
    assert lost == pytest.approx(5 * ohm("10 mm2", 32), abs=5 * 2 * SMALL_OHM)


def test_drawn_returns_give_the_same_as_implied_ones_of_the_same_length():
    def boat(returns: str) -> Boat:
        made = battery(Boat(returns=returns)).load("E1", current_a=10, nominal_v=12).wire(
            "W1", "G1.+", "E1.+", "6 mm2", length_m=5)
        if returns == "drawn":
            made.wire("W2", "E1.-", "G1.-", "6 mm2", cores=("-",), length_m=5)
        return made

    across = []
    for returns in ("implied", "drawn"):
        found = point(Survey(boat(returns).diagram()))
        across.append(found.terminals["E1.+"] - found.terminals["E1.-"])
    assert across[0] == pytest.approx(across[1], abs=10 * SMALL_OHM)


def test_a_starter_returns_through_the_block_it_is_bolted_to():
    boat = (
        battery(Boat()).part("M1", "engine_block")
        .part("M2", "starter", cranking_a=200, mounted_on="M1", return_by="case")
        .wire("W1", "G1.+", "M2.+", "70 mm2", length_m=1)
        .wire("W2", "M1.n1", "G1.-", "70 mm2", cores=("-",), length_m=2)
    )
    found = point(Survey(boat.diagram()), short_time=["M2"])
    across = found.terminals["M2.+"] - found.terminals["M2.-"]
    assert across == pytest.approx(
        12.6 - 200 * (0.01 + ohm("70 mm2", 3)), abs=200 * SMALL_OHM)
    assert abs(found.conductors["W2"]) == pytest.approx(200, rel=1e-6)


def test_a_long_thin_lead_limits_a_thruster_through_a_small_relay():
    """By hand: 3 kW at 12 V behind 14 m of 16 mm2 out and the same back, and 10 milliohm.

    R = 0.01 + 2 x 14 m x 1.21 ohm/km = 0.04388 ohm, so no 3 kW can be had: at most
    E^2 / 4 R = 12.6^2 / 0.17552 = 904 W. Below its floor of 6 V the motor is 6^2 / 3000 =
    0.012 ohm, and the current is 12.6 / (0.04388 + 0.012) = 225 A: not the 250 A of its rating,
    and not the sum of ratings. A drawn relay of 250 A is enough there.
    """
    boat = (
        battery(Boat()).part("K1", "relay", rated_continuous_a=250)
        .part("M3", "thruster", power_w=3000, nominal_v=12)
        .wire("W1", "G1.+", "K1.a", "16 mm2", length_m=13.5)
        .wire("W2", "K1.b", "M3.+", "16 mm2", length_m=0.5)
    )
    found = point(Survey(boat.diagram()), short_time=["M3"])
    loop = 0.01 + 2 * 14 * 1.21e-3
    assert 12.6**2 / (4 * loop) == pytest.approx(904, abs=1)
    by_hand = 12.6 / (loop + 6**2 / 3000)
    assert by_hand == pytest.approx(225.5, abs=0.3)
    assert found.conductors["W1"] == pytest.approx(by_hand, rel=2e-3)
    assert found.parts["M3"].state == "cannot run"
    assert any(p.sentence.startswith("this load cannot run: M3") for p in found.problems)


def test_a_thruster_that_can_run_draws_what_the_lead_leaves_it():
    """By hand: V (E - V) / R = P has its upper answer at V = (E + sqrt(E^2 - 4 P R)) / 2."""
    boat = (
        battery(Boat()).part("M3", "thruster", power_w=1500, nominal_v=12)
        .wire("W1", "G1.+", "M3.+", "70 mm2", length_m=6)
    )
    found = point(Survey(boat.diagram()), short_time=["M3"])
    loop = 0.01 + 2 * 6 * 0.272e-3
    volts = (12.6 + math.sqrt(12.6**2 - 4 * 1500 * loop)) / 2
    assert found.conductors["W1"] == pytest.approx(1500 / volts, rel=1e-3)


def test_a_silicon_splitter_takes_its_drop():
    """Fact of the trade (common practice, no source): 0.6 to 1 V."""
    boat = (
        battery(Boat(), "G1", 12.2, max_charge_a=20).part("M1", "engine_block")
        .part("G3", "alternator", rated_a=80, set_v=14.4, driven_by="M1")
        .part("R1", "diode_isolator", type="silicon")
        .wire("W1", "G3.+", "R1.in", "25 mm2", length_m=0.5)
        .wire("W2", "R1.out1", "G1.+", "25 mm2", length_m=0.5)
    )
    found = point(Survey(boat.diagram()))
    taken = found.terminals["R1.in"] - found.terminals["R1.out1"]
    assert 0.6 <= taken <= 1.0
    assert found.conductors["W2"] == pytest.approx(20, rel=1e-3)


def follower(alternator_v: float) -> Boat:
    return (
        battery(Boat(), "G1", 12.4, max_charge_a=30).battery(
            "G2", internal_resistance_ohm=0.01, rest_v=12.4, max_charge_a=15)
        .part("M1", "engine_block")
        .part("G3", "alternator", rated_a=60, set_v=alternator_v, driven_by="M1")
        .part("K1", "voltage_sensing_relay", close_above_v=13.3, open_below_v=12.8)
        .wire("W1", "G3.+", "G1.+", "25 mm2", length_m=1)
        .wire("W2", "G1.+", "K1.a", "25 mm2", length_m=1)
        .wire("W3", "K1.b", "G2.+", "25 mm2", length_m=1)
    )


def test_a_follower_closes_near_13_3_volts_and_not_below():
    """Fact of the trade (common practice, no source): a follower starts near 13.3 to 13.5 V."""
    closed = point(Survey(follower(14.4).diagram()))
    assert closed.conductors["W3"] == pytest.approx(15, rel=1e-2)
    open_ = point(Survey(follower(13.0).diagram()))
    assert open_.conductors["W3"] == pytest.approx(0, abs=1e-3)


def test_a_dc_dc_charger_waits_for_its_input_and_stops_without_it():
    def boat(volts: float) -> Boat:
        return (
            battery(Boat(), "G1", volts).battery(
                "G2", internal_resistance_ohm=0.01, rest_v=12.2, max_charge_a=50)
            .part("T1", "dc_dc_charger", rated_output_a=20, input_v=12, absorption_v=14.4,
                  start_above_v=13.3, stop_below_v=12.8, efficiency=0.9)
            .wire("W1", "G1.+", "T1.in+", "10 mm2", length_m=1)
            .wire("W2", "T1.out+", "G2.+", "10 mm2", length_m=1)
        )

    assert point(Survey(boat(14.2).diagram())).conductors["W2"] == pytest.approx(20, rel=1e-3)
    assert point(Survey(boat(12.5).diagram())).conductors["W2"] == pytest.approx(0, abs=1e-3)


def test_an_alternator_carries_a_full_engine_battery_and_the_charger_behind_it():
    """By hand: the bank takes its 18 A and no more, the DC-DC charger what it gives over its
    efficiency, and what is left of 90 A lifts the volts until the regulator holds them at 14.4.

    On the way there more volts mean less current, so Newton's own step leads down.
    """
    boat = charged_from_the_engine()
    found = point(Survey(boat.diagram()))
    given_w = 30 * (found.terminals["T1.out+"] - found.terminals["T1.-"])
    into_a = given_w / 0.9 / (found.terminals["T1.in+"] - found.terminals["T1.-"])
    assert found.settled and found.conductors["W3"] == pytest.approx(30, rel=1e-3)
    assert found.conductors["W2"] == pytest.approx(into_a, rel=1e-3)
    assert found.conductors["W1"] == pytest.approx(18 + into_a, rel=1e-3)
    assert found.terminals["G3.+"] - found.terminals["G3.-"] == pytest.approx(14.4, abs=0.9)


def test_a_converter_of_12_to_24_volts_gives_its_output_and_draws_its_losses():
    """Fact of the trade (common practice, no source): roughly 8 to 17 V in, 20 to 30 V out."""
    boat = (
        battery(Boat()).part("T1", "dc_dc_converter", input_v=12, output_v=24, rated_output_a=10,
                             efficiency=0.9, input_min_v=8)
        .load("E1", current_a=5, nominal_v=24)
        .wire("W1", "G1.+", "T1.in+", "10 mm2", length_m=1)
        .wire("W2", "T1.out+", "E1.+", "4 mm2", length_m=1)
    )
    found = point(Survey(boat.diagram()))
    out_v = found.terminals["T1.out+"] - found.terminals["T1.-"]
    in_v = found.terminals["T1.in+"] - found.terminals["T1.-"]
    assert 20 <= out_v <= 30
    assert found.conductors["W1"] == pytest.approx(out_v * 5 / (0.9 * in_v), rel=1e-3)


def test_a_controller_gives_no_more_than_its_array():
    """Worked example S13's arithmetic: I = P / V at the battery, less the controller's losses."""
    boat = (
        battery(Boat(nominal_v=24), "G1", 25.6, series_count=2, max_charge_a=100)
        .part("G2", "solar_array", panel_w=1000, panel_vmp_v=48)
        .part("T1", "solar_controller", rated_output_a=60, absorption_v=28.8)
        .wire("W1", "G2.+", "T1.pv+", "16 mm2", length_m=1)
        .wire("W2", "T1.out+", "G1.+", "16 mm2", length_m=1)
    )
    found = point(Survey(boat.diagram()))
    at_output = found.terminals["T1.out+"] - found.terminals["T1.-"]
    at_input = found.terminals["T1.pv+"] - found.terminals["T1.-"]
    arriving_w = at_input * abs(found.conductors["W1"])
    assert arriving_w == pytest.approx(1000, rel=0.01)
    assert found.conductors["W2"] == pytest.approx(EFFICIENCY * arriving_w / at_output, rel=1e-3)


def test_two_floating_systems_do_not_touch():
    boat = (
        battery(Boat()).system("S2", 48, earthing="insulated", returns="implied")
        .battery("G9", 48, internal_resistance_ohm=0.02, rest_v=50)
        .part("T1", "dc_dc_converter", input_v=48, output_v=12, rated_output_a=30, isolated=True)
        .load("E1", current_a=4, nominal_v=12)
        .wire("W1", "G9.+", "T1.in+", "10 mm2", length_m=1)
        .wire("W3", "G9.-", "T1.-", "10 mm2", cores=("-",), length_m=1)
        .wire("W2", "T1.out+", "E1.+", "4 mm2", length_m=1)
        .wire("W4", "T1.out-", "E1.-", "4 mm2", cores=("-",), length_m=1)
    )
    found = point(Survey(boat.diagram()))
    assert found.conductors["W2"] == pytest.approx(4, rel=1e-4)
    assert found.parts["G1"].current_a == pytest.approx(0, abs=1e-6)


def test_a_tap_of_a_series_string_has_its_own_volts():
    taps = ({"id": "mid", "after_block": 1},)
    boat = (
        Boat(nominal_v=24).battery("G1", series_count=2, taps=taps, rest_v=25.2,
                                   internal_resistance_ohm=0.02)
        .load("E1", current_a=5, nominal_v=12).wire("W1", "G1.tap_mid", "E1.+", "4 mm2", length_m=1)
    )
    found = point(Survey(boat.diagram()))
    middle = found.terminals["G1.tap_mid"] - found.terminals["G1.-"]
    assert middle == pytest.approx(12.6 - 5 * 0.01, abs=1e-3)
