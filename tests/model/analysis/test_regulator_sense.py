"""Where an external regulator senses, and when it is dead."""

from __future__ import annotations

from model.analysis.regulator_sense import is_dead, sense_node, sensed_point, supply_node
from model.survey import Survey
from tests.boat_builder import Boat


def split() -> Boat:
    """Return an alternator behind a splitter, and its regulator supplied over a key switch."""
    boat = Boat().battery("G1").battery("G2").part("G5", "alternator").part("A5", "regulator")
    boat.part("R1", "diode_isolator").switch("S9", "load_switch")
    boat.wire("W1", "G5.+", "R1.in").wire("W2", "R1.out1", "G1.+").wire("W3", "R1.out2", "G2.+")
    return boat.wire("W4", "G1.+", "S9.a").wire("W5", "S9.b", "A5.supply")


def test_a_supply_is_no_sense_wire() -> None:
    graph = Survey(split().diagram()).graph
    assert sense_node(graph, "A5") is None
    assert supply_node(graph, "A5") == graph.number["A5.supply"]


def test_a_sense_wire_is_where_it_senses() -> None:
    graph = Survey(split().wire("W6", "G2.+", "A5.sense").diagram()).graph
    assert sense_node(graph, "A5") == graph.number["A5.sense"]


def test_a_regulator_is_dead_with_its_key_off() -> None:
    graph = Survey(split().diagram()).graph
    assert is_dead(graph, "A5", {"S9": "off"})
    assert not is_dead(graph, "A5", {"S9": "on"})
    assert not is_dead(Survey(Boat().part("A5", "regulator").diagram()).graph, "A5", {})


def test_a_sense_wire_sees_no_further_than_a_diode() -> None:
    graph = Survey(split().wire("W6", "G1.+", "A5.sense").diagram()).graph
    point = sensed_point(graph, graph.number["A5.sense"], {})
    assert graph.number["G1.+"] in point
    assert not {graph.number["G5.+"], graph.number["G2.+"]} & point
    without = sensed_point(graph, graph.number["A5.sense"], {}, graph.edges)
    assert without == {graph.number["A5.sense"]}
