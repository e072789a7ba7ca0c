"""Second paths past a switch: whose switch it is, and what may close behind it."""

from __future__ import annotations

from model.analysis.second_path import second_paths
from model.graph import TerminalGraph
from tests.boat_builder import Boat


def boat() -> Boat:
    """Return bank G1 with switch Q1 and load E1 behind it, and bank G2."""
    return (Boat().battery("G1").battery("G2").switch("Q1").busbar("X1").load("E1")
            .wire("W1", "G1.+", "Q1.a").wire("W2", "Q1.b", "X1.s1").wire("W3", "X1.s2", "E1.+"))


def found(made: Boat, named: bool = False) -> list[tuple[str, tuple[str, ...], str]]:
    graph = TerminalGraph(made.diagram())
    return [(one.switch, one.loads, one.source) for one in second_paths(graph, {"Q1": named})]


def test_nothing_but_the_switch_is_no_second_path() -> None:
    assert found(boat()) == []


def test_a_relay_behind_the_switch_is_one() -> None:
    made = boat().part("K1", "voltage_sensing_relay").wire("W4", "X1.s3", "K1.a").wire(
        "W5", "K1.b", "G2.+")
    assert found(made) == [("Q1", ("E1",), "G2")]


def test_a_relay_before_the_switch_is_none() -> None:
    made = boat().part("K1", "voltage_sensing_relay").wire("W4", "Q1.a", "K1.a").wire(
        "W5", "K1.b", "G2.+")
    assert found(made) == []


def test_another_banks_switch_counts_only_when_the_circuit_is_named() -> None:
    made = boat().switch("Q2").wire("W4", "X1.s3", "Q2.a").wire("W5", "Q2.b", "G2.+")
    assert found(made) == []
    assert found(made, named=True) == [("Q1", ("E1",), "G2")]


def test_an_emergency_link_never_counts() -> None:
    made = boat().switch("Q3", "emergency_link", normal="closed").wire(
        "W4", "X1.s3", "Q3.a").wire("W5", "Q3.b", "G2.+")
    assert found(made, named=True) == []


def test_a_diode_feeds_in_its_own_direction() -> None:
    made = boat().part("R1", "diode_isolator").wire("W4", "G2.+", "R1.in").wire(
        "W5", "R1.out1", "X1.s3")
    assert found(made) == [("Q1", ("E1",), "G2")]
    other = boat().part("R1", "diode_isolator").wire("W4", "X1.s3", "R1.in").wire(
        "W5", "R1.out1", "G2.+")
    assert found(other) == []


def test_a_relay_that_stands_open_may_close_and_a_switch_by_hand_stays() -> None:
    made = boat().part("K1", "relay", normal="open").wire("W4", "X1.s3", "K1.a").wire(
        "W5", "K1.b", "G2.+")
    assert found(made) == [("Q1", ("E1",), "G2")]
    made = boat().switch("S1", "load_switch", normal="open").wire("W4", "X1.s3", "S1.a").wire(
        "W5", "S1.b", "G2.+")
    assert found(made) == []


def test_converters_that_supply_count_and_alternators_do_not() -> None:
    made = boat().part("T1", "dc_dc_converter").wire("W4", "G2.+", "T1.in+").wire(
        "W5", "T1.out+", "X1.s3")
    assert found(made) == [("Q1", ("E1",), "G2")]
    made = boat().part("T1", "dc_dc_charger").wire("W4", "G2.+", "T1.in+").wire(
        "W5", "T1.out+", "X1.s3")
    assert found(made) == []
    assert found(boat().part("G5", "alternator").wire("W4", "G5.+", "X1.s3")) == []


def test_a_switch_without_anything_behind_it_is_no_subject() -> None:
    made = (Boat().battery("G1").battery("G2").switch("Q1").wire("W1", "G1.+", "Q1.a")
            .part("K1", "voltage_sensing_relay").wire("W2", "Q1.b", "K1.a").wire(
                "W3", "K1.b", "G2.+"))
    assert found(made) == []


def test_a_switch_of_one_circuit_is_looked_at_behind_the_main_switch() -> None:
    made = boat().switch("S1", "load_switch").load("E2").wire("W6", "X1.s4", "S1.a").wire(
        "W7", "S1.b", "E2.+").part("K1", "voltage_sensing_relay").wire("W4", "E2.+", "K1.a").wire(
        "W5", "K1.b", "G2.+")
    graph = TerminalGraph(made.diagram())
    told = [(one.switch, one.loads, one.source) for one in second_paths(graph, {"S1": True})]
    assert told == [("S1", ("E2",), "G2")]
