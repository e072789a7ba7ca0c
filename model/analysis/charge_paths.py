"""Charge paths by direction: can any source reach a bank in some position of the switches?

Contacts of one switch that never close together exclude each other. Whether the volts at the bank
are enough is another question and needs the solver.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from model.analysis.banks import Bank, handle_of
from model.analysis.reach import follow, onward, source_nodes, standing
from model.graph import Edge, TerminalGraph


def charge_sources(graph: TerminalGraph, banks: tuple[Bank, ...]) -> Mapping[str, frozenset[str]]:
    """Return, for each bank, the sources other than batteries that can charge it."""
    found: dict[str, set[str]] = {bank.id: set() for bank in banks}
    for component in graph.diagram.components.values():
        source = graph.kinds[component.id].source
        if source is None or source.kind == "battery":
            continue
        reached = directed_reach(graph, source_nodes(graph, component.id))
        for bank in banks:
            if any(graph.number[f"{battery}.+"] in reached for battery in bank.batteries):
                found[bank.id].add(component.id)
    return {bank: frozenset(sources) for bank, sources in found.items()}


def reached_by_itself(
    graph: TerminalGraph, sources: Iterable[str], positions: Mapping[str, str]
) -> frozenset[int]:
    """Return what sources reach forward with the switches in these positions and every contact
    closed that no hand works.
    """
    by = tuple(sources)
    return graph.of_wiring(("reached by itself", by, standing(positions)), lambda: (
        _reached_by_itself(graph, by, positions)))


def _reached_by_itself(
    graph: TerminalGraph, sources: tuple[str, ...], positions: Mapping[str, str]
) -> frozenset[int]:
    ways = onward(graph, ("by itself", standing(positions)), lambda edge, node: (
        edge.role not in ("load", "source") and not (edge.one_way and edge.a != node)
        and (graph.is_closed(edge, positions) or not _by_hand(graph, edge))))
    return frozenset(
        follow(ways, (node for source in sources for node in source_nodes(graph, source))))


def _by_hand(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether a hand works a contact of direct current; an AC transfer stands where it must."""
    return handle_of(graph, edge).manual and graph.kinds[edge.owner].family != "alternating"


def directed_reach(graph: TerminalGraph, starts: list[int]) -> set[int]:
    """Return what can be reached forward in some position, through any closed-able contact."""
    seen = {(node, -1) for node in starts}
    stack = list(seen)
    while stack:
        node, last = stack.pop()
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.role in ("load", "source") or (edge.one_way and edge.a != node):
                continue
            if last >= 0 and _exclude(edge, graph.edges[last]):
                continue
            state = (edge.other(node), number if edge.role == "contact" else -1)
            if state not in seen:
                seen.add(state)
                stack.append(state)
    return {node for node, _ in seen}


def _exclude(one: Edge, other: Edge) -> bool:
    """Say whether two contacts of one switch are never closed together."""
    return (one.handle is not None and one.handle == other.handle and one.index != other.index
            and not one.closed_in & other.closed_in)
