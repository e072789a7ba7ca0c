"""What a core means that ends at the port of the other pole."""

from __future__ import annotations

import pytest

from model.graph import TerminalGraph
from tests.boat_builder import Boat

MINUS = ("-",)


def ends_of(boat: Boat, wire: str) -> list[str]:
    graph = TerminalGraph(boat.diagram())
    return [graph.names[node] for edge in graph.edges_of[wire] for node in (edge.a, edge.b)]


def swapped(load: str = "load") -> Boat:
    """Return a battery with a load whose two ends were changed over, the cores left."""
    return (Boat().battery("G1").part("E1", load)
            .wire("W1", "G1.+", "E1.-").wire("N1", "G1.-", "E1.+", cores=MINUS))


@pytest.mark.parametrize("kind", ["load", "starter", "alternator", "inverter"])
def test_ends_that_were_changed_over_are_no_short_circuit(kind: str) -> None:
    assert ends_of(swapped(kind), "W1") == ["G1.+", "E1.-"]
    assert ends_of(swapped(kind), "N1") == ["G1.-", "E1.+"]


def test_a_return_may_be_drawn_beside_the_feed() -> None:
    boat = (Boat().battery("G1").load("E1")
            .wire("W1", "G1.+", "E1.+").wire("N1", "G1.-", "E1.+", cores=MINUS))
    assert ends_of(boat, "N1") == ["G1.-", "E1.-"]


def test_a_second_return_at_the_minus_says_that_it_is_the_minus() -> None:
    boat = swapped().load("E2").wire("N2", "E1.-", "E2.-", cores=MINUS)
    assert ends_of(boat, "N1") == ["G1.-", "E1.-"]


def test_a_feed_at_the_plus_says_that_it_is_the_plus() -> None:
    boat = swapped().load("E2").wire("W2", "E2.+", "E1.+")
    assert ends_of(boat, "N1") == ["G1.-", "E1.-"]


def test_the_inlet_of_a_panel_that_was_changed_over_is_spoken_of_as_its_plus() -> None:
    boat = (Boat().battery("G1").panel("P1", {})
            .wire("W1", "G1.+", "P1.-").wire("N1", "G1.-", "P1.in", cores=MINUS))
    assert ends_of(boat, "N1") == ["G1.-", "P1.in+"]
    assert TerminalGraph(boat.diagram()).terminal_of_port["P1.in"] == "P1.in+"
