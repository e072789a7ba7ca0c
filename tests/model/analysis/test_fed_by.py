"""What feeds a terminal: contacts as they stand, against diodes, no charging relay."""

from __future__ import annotations

from model.analysis.fed_by import fed_by, fed_loads, starters_fed
from model.graph import TerminalGraph
from tests.boat_builder import Boat


def boat() -> Boat:
    return (Boat().battery("G1").battery("G2").switch("Q1").load("E1")
            .wire("W1", "G1.+", "Q1.a").wire("W2", "Q1.b", "E1.+"))


def fed(made: Boat, terminal: str, **positions: str) -> set[str]:
    graph = TerminalGraph(made.diagram())
    return set(fed_by(graph, [graph.number[terminal]], positions))


def test_a_switch_feeds_while_it_is_closed() -> None:
    assert fed(boat(), "E1.+") == {"G1"}
    assert fed(boat(), "E1.+", Q1="off") == set()


def test_a_relay_that_volts_work_feeds_nothing() -> None:
    made = boat().part("K1", "voltage_sensing_relay").wire("W3", "K1.a", "G1.+").wire(
        "W4", "K1.b", "G2.+")
    assert fed(made, "E1.+") == {"G1"}


def test_a_diode_is_passed_against_its_direction_only() -> None:
    made = boat().part("R1", "diode_isolator").wire("W3", "G2.+", "R1.in").wire(
        "W4", "R1.out1", "E1.+")
    assert fed(made, "E1.+") == {"G1", "G2"}
    assert fed(made, "R1.in") == {"G2"}


def test_a_converter_feeds_and_a_charger_between_banks_does_not() -> None:
    made = Boat().battery("G1").part("T1", "dc_dc_converter").wire("W1", "G1.+", "T1.in+")
    assert fed(made, "T1.out+") == {"G1"}
    made = Boat().battery("G1").part("T1", "dc_dc_charger").wire("W1", "G1.+", "T1.in+")
    assert fed(made, "T1.out+") == set()


def test_starters_are_told_with_their_batteries() -> None:
    made = boat().part("M1", "starter").wire("W5", "Q1.b", "M1.+")
    assert starters_fed(TerminalGraph(made.diagram())) == {"M1": {"G1"}}


def test_loads_are_told_by_the_batteries_that_feed_them() -> None:
    graph = TerminalGraph(boat().diagram())
    assert fed_loads(graph, ["G1"], {}) == {"E1"}
    assert fed_loads(graph, ["G2"], {}) == set()
    assert fed_loads(graph, ["G1"], {"Q1": "off"}) == set()
