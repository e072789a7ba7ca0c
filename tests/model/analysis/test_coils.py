"""Contacts that a drawn switch works through a coil."""

from __future__ import annotations

from model.analysis.circuit_switches import feeding_in_use, killers
from model.analysis.coils import dead_contacts, drivers
from model.graph import TerminalGraph
from tests.boat_builder import Boat


def boat() -> Boat:
    """Return a load behind relay K1, which switch S1 works through relay K2, fed from G1."""
    return (Boat().battery("G1").load("E1").switch("S1", "load_switch")
            .part("K1", "relay", normal="open", driven_by="K2")
            .part("K2", "relay", normal="open", driven_by="S1")
            .wire("W1", "G1.+", "K1.a").wire("W2", "K1.b", "E1.+")
            .wire("W3", "G1.+", "K2.a").wire("W4", "K2.b", "K1.coil+")
            .wire("W5", "G1.+", "S1.a").wire("W6", "S1.b", "K2.coil+"))


def dead(made: Boat, **positions: str) -> set[str]:
    graph = TerminalGraph(made.diagram())
    stands = {"K1": "on", "K2": "on", **positions}
    return set(dead_contacts(graph, lambda edge: graph.is_closed(edge, stands)))


def test_a_chain_of_relays_falls_with_the_switch() -> None:
    assert dead(boat()) == set()
    assert dead(boat(), S1="off") == {"K1", "K2"}


def test_a_hand_switch_kills_what_is_fed_through_the_chain() -> None:
    graph = TerminalGraph(boat().diagram())
    load = graph.number["E1.+"]
    assert killers(graph, load) == {"S1"}
    assert feeding_in_use(graph, [load]) == {"G1"}
    assert feeding_in_use(graph, [load], {"S1": "off"}) == set()


def test_a_coil_goes_dead_with_what_feeds_its_switch() -> None:
    made = (Boat().battery("G1").switch("Q1").switch("S1", "load_switch")
            .part("K1", "contactor", driven_by="S1")
            .wire("W1", "G1.+", "Q1.a").wire("W2", "Q1.b", "S1.a"))
    assert dead(made) == set()
    assert dead(made, Q1="off") == {"K1"}


def test_a_switch_in_the_minus_of_a_coil_is_taken_as_fed() -> None:
    made = (Boat().battery("G1").switch("S1", "load_switch")
            .part("K1", "contactor", driven_by="S1")
            .wire("W1", "S1.b", "G1.-", cores=("-",)))
    assert dead(made) == set()
    assert dead(made, S1="off") == {"K1"}


def test_only_switches_work_contacts_here() -> None:
    made = (Boat().part("A1", "engine_block").switch("S1", "load_switch")
            .part("K1", "contactor", driven_by="A1").part("K2", "relay", driven_by="S1")
            .part("K3", "relay", driven_by="S1", normal="closed")
            .part("K4", "contactor", driven_by="S1", latching=True))
    assert drivers(TerminalGraph(made.diagram())) == {"K2": "S1"}
