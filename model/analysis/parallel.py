"""Parallel cables: power conductors of one pole between the same two points."""

from __future__ import annotations

from dataclasses import dataclass

from model.analysis.reach import reach
from model.analysis.runs import is_dc_power
from model.graph import TerminalGraph
from model.storage.plain import natural_key


@dataclass(frozen=True, slots=True)
class ParallelCables:
    """Conductors side by side, two or more."""

    conductors: tuple[str, ...]


def parallel_cables(graph: TerminalGraph) -> tuple[ParallelCables, ...]:
    """Return the sets of conductors that join the same two points.

    A point is a terminal with all that is joined to it inside its part.
    """
    point = _points(graph)
    found: dict[tuple[frozenset[int], str], list[str]] = {}
    for edge in graph.edges:
        ends = frozenset({point[edge.a], point[edge.b]})
        if is_dc_power(graph, edge) and len(ends) == 2:
            found.setdefault((ends, edge.core), []).append(edge.owner)
    return tuple(dict.fromkeys(
        ParallelCables(tuple(sorted(items, key=natural_key)))
        for items in found.values() if len(items) > 1))


def _points(graph: TerminalGraph) -> list[int]:
    """Return the point of each terminal, named by one of its terminals."""
    point = [-1] * len(graph.names)
    for start in range(len(point)):
        if point[start] < 0:
            for node in reach(graph, [start], lambda edge, _: edge.role == "join"):
                point[node] = start
    return point
