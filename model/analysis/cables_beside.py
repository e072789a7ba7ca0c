"""Conductors drawn side by side: several positive cores between the same two points."""

from __future__ import annotations

from collections.abc import Mapping

from model.analysis.leads import is_power
from model.graph import TerminalGraph


def cables_beside(graph: TerminalGraph) -> Mapping[str, tuple[str, ...]]:
    """Return, for each conductor with others beside it, all of them in order.

    The studs of one bar are one point.
    """
    between: dict[frozenset[int], list[str]] = {}
    for edge in graph.edges:
        if is_power(graph, edge):
            points = frozenset({_point(graph, edge.a), _point(graph, edge.b)})
            between.setdefault(points, []).append(edge.owner)
    return {item: tuple(sorted(group)) for points, group in between.items()
            if len(group) > 1 and len(points) > 1 for item in group}


def _point(graph: TerminalGraph, node: int) -> int:
    """Return the first of the terminals joined inside the terminal's part."""
    seen, stack = {node}, [node]
    while stack:
        here = stack.pop()
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            after = edge.other(here)
            if edge.role == "join" and after not in seen:
                seen.add(after)
                stack.append(after)
    return min(seen)
