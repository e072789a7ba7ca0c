"""What nothing feeds, by its cause, and what no battery feeds. Facts of the circuit, no source."""

from __future__ import annotations

from model.analysis.unfed import fed_in_some_position, unfed, without_battery
from model.graph import TerminalGraph
from tests.boat_builder import Boat


def lit() -> Boat:
    """A battery, its fuse and switch, a bar and two lamps."""
    boat = Boat().battery("G1").fuse("F1", 50).switch("Q1").busbar("X1", stud_count=6)
    boat.load("E1", current_a=1).load("E2", current_a=1)
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "Q1.a").wire("W3", "Q1.b", "X1.s1")
    return boat.wire("W4", "X1.s2", "E1.+").wire("W5", "X1.s3", "E2.+")


def graph_of(boat: Boat, *without: str) -> TerminalGraph:
    diagram = boat.diagram()
    left = {item: wire for item, wire in diagram.conductors.items() if item not in without}
    return TerminalGraph(diagram.replaced(conductors=type(diagram.conductors)(left)))


def test_all_switches_count_as_closed():
    graph = graph_of(lit())
    assert graph.number["E1.+"] in fed_in_some_position(graph)
    assert unfed(graph) == ()


def test_all_that_is_dead_for_one_missing_lead_has_one_head():
    (dead,) = unfed(graph_of(lit(), "W2"))
    assert dead.head == "Q1" and dead.parts == ("E1", "E2") and not dead.backwards


def test_nothing_is_said_while_no_source_is_connected():
    assert unfed(graph_of(lit(), "W1")) == ()


def sunny() -> Boat:
    """The same with a solar array on the bar."""
    boat = lit().part("G6", "solar_array").part("T1", "solar_controller")
    return boat.wire("W6", "G6.+", "T1.pv+").wire("W7", "T1.out+", "X1.s4")


def test_a_bar_that_the_sun_alone_feeds_has_no_battery():
    assert without_battery(graph_of(sunny())) is None
    found = without_battery(graph_of(sunny(), "W3"))
    assert found is not None and found.sources == ("G6",)
    assert {"E1", "E2"} <= set(found.parts)


def test_before_any_battery_is_connected_none_is_missed():
    assert without_battery(graph_of(sunny(), "W1")) is None
