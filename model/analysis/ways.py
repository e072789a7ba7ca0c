"""Conductors in series from a terminal, up to the first branch, device or end."""

from __future__ import annotations

from model.analysis.protection import is_positive_core
from model.graph import Edge, TerminalGraph


def series_from(graph: TerminalGraph, node: int) -> tuple[list[str], str]:
    """Return the conductors in series from a terminal up to a branch, device or end, and where.

    Contacts and joints of two conductors are passed.
    """
    conductors: list[str] = []
    came = -1
    while True:
        exits, stop, passed = _one_way_on(graph, node, came)
        if stop or len(exits) != 1:
            return conductors, stop or graph.component_of[node]
        here, edge = exits[0]
        if edge.owner in conductors:
            return conductors, graph.component_of[here]
        conductors.append(edge.owner)
        came, node = edge.index, edge.other(here)


def _one_way_on(
    graph: TerminalGraph, node: int, came: int
) -> tuple[list[tuple[int, Edge]], str, set[int]]:
    seen, stack = {node}, [node]
    exits: list[tuple[int, Edge]] = []
    stop = ""
    while stack:
        here = stack.pop()
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            if number == came:
                continue
            if is_positive_core(edge):
                exits.append((here, edge))
            elif edge.role in ("join", "contact"):
                after = edge.other(here)
                if after not in seen:
                    seen.add(after)
                    stack.append(after)
            elif came >= 0:
                stop = edge.owner
    return exits, stop, seen
