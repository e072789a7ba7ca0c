"""Which sources can charge a bank, in some position of the switches, by direction alone."""

from __future__ import annotations

from model.survey import Survey
from tests.boat_builder import Boat


def test_a_second_bank_without_a_path_has_no_source():
    boat = (
        Boat().battery("G1").battery("G2").part("G3", "alternator")
        .wire("W1", "G3.+", "G1.+")
    )
    assert Survey(boat.diagram()).charge_sources == {"G1": {"G3"}, "G2": frozenset()}


def test_a_selector_that_can_join_both_gives_both_a_path():
    boat = (
        Boat().battery("G1").battery("G2").part("Q1", "selector_switch").part("G3", "alternator")
        .wire("W1", "G1.+", "Q1.1").wire("W2", "G2.+", "Q1.2").wire("W3", "G3.+", "Q1.c")
    )
    assert Survey(boat.diagram()).charge_sources == {"G1": {"G3"}, "G2": {"G3"}}


def test_two_contacts_of_one_transfer_switch_never_make_one_way():
    boat = (
        Boat().part("X9", "shore_inlet").part("G5", "generating_set")
        .part("Q2", "ac_transfer_switch").part("T1", "shore_charger").battery("G1")
        .wire("W1", "X9.ac", "Q2.1", cores=("L", "N", "E"))
        .wire("W2", "T1.ac", "Q2.2", cores=("L", "N", "E")).wire("W3", "T1.1+", "G1.+")
    )
    assert Survey(boat.diagram()).charge_sources["G1"] == frozenset()


def test_a_charger_fed_from_the_house_bank_passes_on_what_charges_the_house():
    boat = (
        Boat().battery("G1").battery("G2").part("G3", "alternator").part("T5", "dc_dc_charger")
        .wire("W1", "G3.+", "G1.+").wire("W2", "G1.+", "T5.in+").wire("W3", "T5.out+", "G2.+")
    )
    assert Survey(boat.diagram()).charge_sources["G2"] == {"G3"}


def test_batteries_joined_without_a_switch_are_one_bank():
    boat = (
        Boat().battery("G1").battery("G2").battery("G4").switch("Q1")
        .wire("W1", "G1.+", "G2.+").wire("W2", "G2.+", "Q1.a").wire("W3", "Q1.b", "G4.+")
        .wire("W5", "G1.-", "G2.-", cores=("-",)).wire("W6", "G2.-", "G4.-", cores=("-",))
    )
    assert [bank.batteries for bank in Survey(boat.diagram()).banks] == [("G1", "G2"), ("G4",)]
