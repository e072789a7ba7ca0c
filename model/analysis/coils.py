"""Contacts that a drawn switch works through a coil: open while that switch is open or dead.

A latching contact stays as it was left, and the break contact of a relay needs no coil: neither
is one of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from model.analysis.banks import handle_of
from model.analysis.fed_by import is_battery_post
from model.analysis.reach import reach
from model.diagram import Component
from model.graph import Edge, TerminalGraph

Closed = Callable[[Edge], bool]


def drivers(graph: TerminalGraph) -> Mapping[str, str]:
    """Return the drawn switches that work contactors and relays, by what they work."""
    return graph.of_wiring("drivers", lambda: {
        part.id: driver for part in graph.diagram.components.values()
        if (driver := _driver(part)) in graph.kinds and graph.kinds[driver].role == "switch"})


def _driver(part: Component) -> str:
    facts = part.parameters
    stays = facts.get("latching") is True or (
        part.kind == "relay" and facts.get("normal") == "closed")
    return "" if part.kind not in ("contactor", "relay") or stays else facts.get("driven_by", "")


def is_worked_by_hand_switch(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether an edge is a contact that a drawn switch worked by hand drives."""
    driver = drivers(graph).get(edge.owner)
    return driver is not None and edge.role == "contact" and any(
        handle_of(graph, contact).manual for contact in _contacts(graph, driver))


def dead_contacts(graph: TerminalGraph, closed: Closed) -> frozenset[str]:
    """Return the contactors and relays that no coil holds closed in a state."""
    dead: frozenset[str] = frozenset()
    while True:
        before = dead

        def conducts(edge: Edge, without: frozenset[str] = before) -> bool:
            return edge.owner not in without and closed(edge)

        dead = before | {contact for contact, driver in drivers(graph).items()
                         if not _holds(graph, driver, conducts)}
        if dead == before:
            return dead


def _holds(graph: TerminalGraph, driver: str, closed: Closed) -> bool:
    """Say whether a switch is closed and fed; one that is drawn without a feed counts as fed."""
    return any(closed(edge) for edge in _contacts(graph, driver)) and (
        _is_fed(graph, driver, closed) or not _is_fed(graph, driver, lambda _: True))


def _is_fed(graph: TerminalGraph, switch: str, closed: Closed) -> bool:
    ends = [node for edge in _contacts(graph, switch) for node in (edge.a, edge.b)]
    return any(is_battery_post(graph, node) for node in reach(graph, ends, lambda edge, at: (
        edge.role not in ("load", "source") and not (edge.one_way and edge.b != at)
        and closed(edge))))


def _contacts(graph: TerminalGraph, switch: str) -> list[Edge]:
    return [edge for edge in graph.edges_of[switch] if edge.role == "contact"]
