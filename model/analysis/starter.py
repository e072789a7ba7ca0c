"""The starter circuit: what carries cranking current and needs no overcurrent protection.

Conductors of every way from a battery to a starter that passes only conductors, studs and manual
switches whose normal position is closed (every position of a selector counts) and no overcurrent
device; and an emergency link with its two leads as far as the first stud, bus or battery on each
side. A house feed does not become starter circuit because an emergency link exists.
"""

from __future__ import annotations

from collections.abc import Iterable

from model.analysis.cycles import blocks
from model.graph import Edge, TerminalGraph


def starter_circuit(graph: TerminalGraph) -> frozenset[str]:
    """Return the ids of the conductors that belong to a starter circuit."""
    found: set[str] = set()
    parts = graph.diagram.components.values()
    for pole in _switched_poles(graph):
        batteries = [graph.number[f"{c.id}.{pole}"] for c in parts if c.kind == "battery_bank"]
        starters = [graph.number[f"{c.id}.{pole}"] for c in parts if c.kind == "starter"]
        for battery in batteries:
            for starter in starters:
                found |= _on_the_way(graph, battery, starter)
    found |= _emergency_leads(graph)
    return frozenset(found)


def _switched_poles(graph: TerminalGraph) -> tuple[str, ...]:
    """Return the poles that carry cranking current unearthed: both in an insulated system."""
    insulated = any(system.earthing == "insulated" for system in graph.diagram.systems.values())
    return ("+", "-") if insulated else ("+",)


def is_emergency_link(graph: TerminalGraph, component: str) -> bool:
    """Say whether a part is the normally open switch that joins two banks in need."""
    part = graph.diagram.components[component]
    return part.kind == "emergency_link" or part.parameters.get("role") == "emergency_link"


def _allowed(graph: TerminalGraph, edge: Edge) -> bool:
    if edge.role == "conductor":
        return edge.core not in ("signal", "L", "L2", "N", "E")
    if edge.role == "join":
        return True
    if edge.role != "contact" or is_emergency_link(graph, edge.owner):
        return False
    part = graph.diagram.components[edge.owner]
    if part.kind == "selector_switch":
        return True
    kind = graph.kinds[edge.owner]
    manual = all(handle.manual for handle in kind.handles(part.parameters))
    return manual and graph.is_closed(edge, {})


def _on_the_way(graph: TerminalGraph, start: int, finish: int) -> set[str]:
    """Return the conductors on any simple way between two terminals.

    With an edge added between both, these are the edges of the one block that holds it.
    """
    added = -2

    def neighbours(node: int) -> Iterable[tuple[int, int]]:
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if _allowed(graph, edge):
                yield number, edge.other(node)
        if node == start:
            yield added, finish
        elif node == finish:
            yield added, start

    for block in blocks([start], neighbours):
        if added in block:
            return {graph.edges[number].owner for number in block
                    if number != added and graph.edges[number].role == "conductor"}
    return set()


def _emergency_leads(graph: TerminalGraph) -> set[str]:
    leads = set()
    for component in graph.diagram.components.values():
        if not is_emergency_link(graph, component.id):
            continue
        for node in graph.nodes_of(component.id):
            leads |= {graph.edges[number].owner for number in graph.edges_at[node]
                      if graph.edges[number].role == "conductor"}
    return leads
