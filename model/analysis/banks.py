"""Banks, their isolating devices, and what is behind them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from model.analysis.polarity import Potential
from model.analysis.reach import reach
from model.graph import Edge, TerminalGraph
from model.kinds.record import Handle


@dataclass(frozen=True, slots=True)
class Bank:
    """Batteries joined without any switch: in parallel, or in series."""

    id: str
    batteries: tuple[str, ...]
    nodes: frozenset[int]


def banks(graph: TerminalGraph, potentials: list[Potential]) -> tuple[Bank, ...]:
    """Return the banks in service; a bank is named by its first battery."""
    groups: list[tuple[set[str], set[int]]] = []

    def passes(edge: Edge, node: int) -> bool:
        if edge.role in ("conductor", "join"):
            return potentials[edge.other(node)].side != "-"
        return edge.role == "overcurrent" and not is_isolating(graph, edge)

    for component in graph.diagram.components.values():
        if component.kind != "battery_bank" or component.stored is True:
            continue
        own = {n for n in graph.nodes_of(component.id) if potentials[n].side != "-"}
        merged_ids, merged_nodes = {component.id}, reach(graph, own, passes)
        rest = []
        for ids, nodes in groups:
            if nodes & merged_nodes:
                merged_ids |= ids
                merged_nodes |= nodes
            else:
                rest.append((ids, nodes))
        groups = [*rest, (merged_ids, merged_nodes)]
    return tuple(sorted(
        (Bank(min(ids), tuple(sorted(ids)), frozenset(nodes)) for ids, nodes in groups),
        key=lambda bank: bank.id,
    ))


def is_isolating(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether an edge is a manual switch, or a breaker the maker allows as an isolator.

    A remotely operated switch counts when it has a manual override.
    """
    if edge.handle is None:
        return False
    if edge.role == "overcurrent":
        return edge.device.get("switch_duty") is True or edge.device.get("role") == "bank"
    remote = graph.diagram.components[edge.owner].parameters.get("remote")
    own = handle_of(graph, edge)
    return own.manual and remote != "without" and (own.isolates or remote == "with_override")


def handle_of(graph: TerminalGraph, edge: Edge) -> Handle:
    """Return the handle that works an edge which has one."""
    return graph.handles[str(edge.handle)]


def is_main_switch(graph: TerminalGraph, component: str) -> bool:
    """Say whether a part is made to isolate a bank, not one circuit."""
    part = graph.diagram.components[component]
    if part.kind in ("battery_switch", "selector_switch"):
        return True
    return part.parameters.get("role") == "bank"


def off_position(graph: TerminalGraph, edge: Edge) -> str:
    """Return a position of an edge's handle in which no contact of it is closed."""
    handle = edge.handle or ""
    closed: set[str] = set()
    for other in graph.edges_of[edge.owner]:
        if other.handle == handle:
            closed |= other.closed_in
    own = handle_of(graph, edge)
    return next((p for p in own.positions if p not in closed), own.positions[-1])


def loads_at(graph: TerminalGraph, nodes: Iterable[int]) -> list[str]:
    """Return the components that draw current from one of these terminals."""
    found = []
    for node in nodes:
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.role == "load" and edge.a == node:
                found.append(edge.owner)
    return sorted(set(found))
