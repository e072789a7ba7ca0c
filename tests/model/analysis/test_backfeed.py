"""Live, dead, and live although the switch says off."""

from __future__ import annotations

from model.survey import Survey
from tests.boat_builder import Boat


def solar_on_the_load_side() -> Boat:
    return (
        Boat().battery("G1").switch("Q1").part("X1", "busbar").load("E1")
        .part("G2", "solar_array").part("T1", "solar_controller")
        .wire("W1", "G1.+", "Q1.a").wire("W2", "Q1.b", "X1.s1").wire("W3", "X1.s2", "E1.+")
        .wire("W4", "G2.+", "T1.pv+").wire("W5", "T1.out+", "X1.s3")
    )


def test_solar_on_the_load_side_leaves_the_loads_live_with_the_battery_off():
    """Common practice, no source: the classic reason to bring sources in ahead of the switch."""
    survey = Survey(solar_on_the_load_side().diagram())
    state = survey.live({"Q1": "off"})
    assert state.components["E1"] == {"G2"}
    assert {"E1", "X1", "W3", "X1.s1"} <= state.unexpected


def test_the_sources_own_lead_is_live_as_expected():
    survey = Survey(solar_on_the_load_side().diagram())
    assert not {"W4", "W5", "T1.out+"} & survey.live({"Q1": "off"}).unexpected


def test_what_an_inverter_makes_of_back_feed_is_unexpected_too():
    boat = solar_on_the_load_side().part("T2", "inverter").part("E2", "ac_load").wire(
        "W6", "X1.s4", "T2.+").wire("W7", "T2.ac", "E2.ac", cores=("L", "N", "E"))
    state = Survey(boat.diagram()).live({"Q1": "off"})
    assert {"E2", "W7", "T2"} <= state.unexpected
    assert "T1.out+" not in state.unexpected


def test_by_night_everything_behind_the_switch_is_dead():
    state = Survey(solar_on_the_load_side().diagram()).live({"Q1": "off"}, {"G2": False})
    assert state.components["E1"] == frozenset() and state.unexpected == frozenset()
    assert state.components["G1"] == {"G1"}


def test_with_the_switch_on_nothing_is_unexpected():
    state = Survey(solar_on_the_load_side().diagram()).live()
    assert state.components["E1"] == {"G1", "G2"} and state.unexpected == frozenset()


def test_a_converter_passes_what_is_live_one_way_only():
    boat = (
        Boat().battery("G1").battery("G2").part("T1", "dc_dc_charger").load("E1")
        .wire("W1", "G1.+", "T1.in+").wire("W2", "T1.out+", "G2.+").wire("W3", "G2.+", "E1.+")
    )
    state = Survey(boat.diagram()).live()
    assert state.terminals["E1.+"] == {"G1", "G2"}
    assert state.terminals["T1.in+"] == {"G1"}


def test_a_diode_isolator_holds_two_banks_apart():
    boat = (
        Boat().battery("G1").battery("G2").part("R1", "diode_isolator").part("G3", "alternator")
        .wire("W1", "G3.+", "R1.in").wire("W2", "R1.out1", "G1.+").wire("W3", "R1.out2", "G2.+")
    )
    state = Survey(boat.diagram()).live()
    assert state.terminals["G1.+"] == {"G1", "G3"}
    assert state.terminals["R1.in"] == {"G3"}


def test_in_an_insulated_system_the_minus_is_live_too():
    boat = Boat(nominal_v=48, earthing="insulated").battery("G1", 48).load("E1").wire(
        "W1", "G1.-", "E1.-", cores=("-",))
    assert Survey(boat.diagram()).live().terminals["E1.-"] == {"G1"}
    earthed = Boat().battery("G1").load("E1").wire("W1", "G1.-", "E1.-", cores=("-",))
    assert Survey(earthed.diagram()).live().terminals["E1.-"] == frozenset()


def test_a_part_that_is_stored_feeds_nothing():
    boat = Boat().battery("G1", stored=True).load("E1").wire("W1", "G1.+", "E1.+")
    assert Survey(boat.diagram()).live().components["E1"] == frozenset()
