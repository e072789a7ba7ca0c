"""What a bank reaches past its switch, and by which conductor."""

from __future__ import annotations

from model.analysis.unswitched import (
    common_conductors,
    has_main_switch,
    loads_behind_ways,
    unswitched,
)
from model.survey import Survey
from tests.boat_builder import Boat


def bypassed() -> Survey:
    """A bank whose fuse feeds the switch and, past it, a panel and a load."""
    boat = Boat().battery("G1").fuse("F1", 100).switch("Q1").load("E1").load("E2").load("E3")
    boat.panel("P1", {"rated_a": 10}).wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "Q1.a")
    boat.wire("W3", "Q1.b", "E1.+").wire("W4", "F1.b", "E2.+").wire("W5", "F1.b", "P1.in")
    return Survey(boat.wire("W6", "P1.w1", "E3.+").diagram())


def test_each_item_is_told_with_the_conductor_that_parts_from_the_way_to_the_switch() -> None:
    survey = bypassed()
    found = unswitched(survey.graph, survey.banks[0])
    assert found.loads == {"E2": "W4", "E3": "W5"}
    assert found.panels == {"P1": "W5"}
    assert has_main_switch(survey.graph, found.switches)


def test_a_converter_that_supplies_loads_is_passed_and_a_charger_is_not() -> None:
    boat = Boat().battery("G1").battery("G2").load("E1").load("E2")
    boat.part("T1", "dc_dc_converter").part("T2", "dc_dc_charger").wire("W1", "G1.+", "T1.in+")
    boat.wire("W2", "T1.out+", "E1.+").wire("W3", "G1.+", "T2.in+").wire("W4", "T2.out+", "G2.+")
    boat.wire("W5", "G2.+", "E2.+")
    survey = Survey(boat.diagram())
    assert set(unswitched(survey.graph, survey.banks[0]).loads) == {"E1"}


def test_another_bank_ends_the_way() -> None:
    boat = Boat().battery("G1").battery("G2").part("K1", "voltage_sensing_relay").load("E1")
    boat.wire("W1", "G1.+", "K1.a").wire("W2", "K1.b", "G2.+").wire("W3", "G2.+", "E1.+")
    survey = Survey(boat.diagram())
    assert not unswitched(survey.graph, survey.banks[0]).loads


def test_the_loads_of_a_panel_are_those_behind_its_ways() -> None:
    assert loads_behind_ways(bypassed().graph, "P1") == {"E3"}


def test_the_conductors_that_all_loads_need_are_told_from_the_bank_on() -> None:
    survey = bypassed()
    (bank,) = survey.banks
    graph = survey.graph
    both = common_conductors(graph, bank, ["E2", "E3"])
    assert [(wire, graph.names[at]) for wire, at in both] == [("W1", "G1.+")]
    one = common_conductors(graph, bank, ["E3"])
    assert [wire for wire, _ in one] == ["W1", "W5", "W6"]
