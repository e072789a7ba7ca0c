"""Ways on which energy goes round: each once, whatever charger it was found by."""

from __future__ import annotations

from model.analysis.energy_loops import energy_loops
from model.survey import Survey
from tests.boat_builder import Boat


def facing() -> Boat:
    boat = Boat().battery("G1").battery("G2")
    boat.part("T1", "dc_dc_charger").part("T2", "dc_dc_charger")
    boat.wire("W1", "G1.+", "T1.in+").wire("W2", "T1.out+", "G2.+")
    return boat.wire("W3", "G2.+", "T2.in+").wire("W4", "T2.out+", "G1.+")


def owners(boat: Boat) -> list[set[str]]:
    return [{edge.owner for edge in loop if edge.role in ("converter", "contact")}
            for loop in energy_loops(Survey(boat.diagram()).graph)]


def test_a_loop_of_two_converters_is_one_loop() -> None:
    assert owners(facing()) == [{"T1", "T2"}]


def test_a_switch_counts_as_a_usual_mode_has_it() -> None:
    boat = Boat().battery("G1").battery("G2").part("T1", "dc_dc_charger")
    boat.switch("Q1", normal="open").wire("W1", "G1.+", "T1.in+").wire("W2", "T1.out+", "G2.+")
    boat.wire("W3", "G2.+", "Q1.a").wire("W4", "Q1.b", "G1.+")
    assert owners(boat) == []
    assert owners(boat.mode("N1", usual=True, positions={"Q1": "on"})) == [{"T1", "Q1"}]


def test_a_transfer_passes_from_a_supply_to_the_loads_only() -> None:
    boat = Boat().battery("G1").part("T1", "inverter").part("T2", "shore_charger")
    boat.part("Q9", "ac_transfer_switch").wire("W1", "G1.+", "T1.+").wire("W2", "T2.1+", "G1.+")
    cores = ("L", "N", "E")
    boat.wire("W3", "T1.ac", "Q9.c", cores=cores).wire("W4", "Q9.1", "T2.ac", cores=cores)
    assert owners(boat) == []
