"""Which batteries an output charges, as the boat is lived in, and by which way."""

from __future__ import annotations

import pytest

from model.analysis.charging import charged, charged_in, charging_way, outlets, regulator_of
from model.survey import Survey
from tests.boat_builder import Boat


def two_banks() -> Boat:
    """Return an alternator on a selector between two banks, and a relay between them."""
    boat = Boat().battery("G1").battery("G2").part("G5", "alternator")
    boat.switch("Q9", "selector_switch", normal_position="1")
    boat.wire("W1", "G5.+", "Q9.c").wire("W2", "Q9.1", "G1.+").wire("W3", "Q9.2", "G2.+")
    return boat


def relayed() -> Boat:
    boat = Boat().battery("G1").battery("G2").part("G5", "alternator")
    boat.part("K1", "voltage_sensing_relay")
    return boat.wire("W1", "G5.+", "G1.+").wire("W2", "G1.+", "K1.a").wire("W3", "K1.b", "G2.+")


def node(survey: Survey, name: str) -> int:
    return survey.graph.number[name]


def test_a_selector_counts_at_either_bank_and_not_at_both() -> None:
    survey = Survey(two_banks().diagram())
    assert charged(survey.graph, node(survey, "G5.+")) == {"G1", "G2"}
    assert charged(survey.graph, node(survey, "G1.+")) == {"G1"}
    assert charged_in(survey.graph, node(survey, "G5.+"), {}) == {"G1"}


@pytest.mark.parametrize(("over", "expected"), [(True, {"G1", "G2"}), (False, {"G1"})])
def test_a_relay_that_volts_work_is_passed_when_asked(over: bool, expected: set[str]) -> None:
    survey = Survey(relayed().diagram())
    assert charged(survey.graph, node(survey, "G5.+"), over) == expected


def test_what_is_stored_or_away_is_not_charged() -> None:
    stored = Survey(relayed().battery("G2", stored=True).diagram())
    assert charged(stored.graph, node(stored, "G5.+")) == {"G1"}
    away = Survey(Boat().battery("G1").part("G5", "alternator").switch("Q1", normal="open")
                  .wire("W1", "G5.+", "Q1.a").wire("W2", "Q1.b", "G1.+")
                  .mode("N1", positions={"Q1": "on"}, absent=("G1",)).diagram())
    assert charged(away.graph, node(away, "G5.+")) == frozenset()


def test_the_way_is_the_shortest_one_and_turns_a_selector_when_it_has_to() -> None:
    survey = Survey(two_banks().diagram())
    way = charging_way(survey.graph, node(survey, "G5.+"), ["G2"])
    assert [edge.owner for edge in way] == ["W1", "Q9", "W3"]
    assert charging_way(survey.graph, node(survey, "G5.+"), []) == ()


def test_every_output_is_named_once() -> None:
    boat = Boat().part("T1", "shore_charger", output_count=2).part("T2", "solar_controller")
    boat.part("T3", "inverter_charger").part("G5", "alternator").part("G6", "solar_array")
    boat.part("T4", "dc_dc_converter").part("T5", "wind_controller")
    survey = Survey(boat.diagram())
    names = sorted(survey.graph.names[outlet.node] for outlet in outlets(survey.graph))
    assert names == ["G5.+", "T1.1+", "T1.2+", "T2.out+", "T3.+", "T5.out+"]


@pytest.mark.parametrize("fields", [{"regulator": "A5"}, {}])
def test_a_regulator_is_found_by_the_word_of_either(fields: dict[str, str]) -> None:
    own = {} if fields else {"regulates": "G5"}
    diagram = Boat().part("G5", "alternator", **fields).part("A5", "regulator", **own).diagram()
    found = regulator_of(diagram, diagram.components["G5"])
    assert found is not None
    assert found.id == "A5"
