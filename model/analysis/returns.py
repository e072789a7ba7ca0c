"""Implied returns: a bare negative terminal goes home by a mirror of its feed.

Every positive conductor without a declared return gets a twin between shadow nodes of the same
topology, so that feeders count too. Fuses, switches and posts are plain joins in the shadow, and
the mirror ends at the battery, the system's datum. A battery's own links get none.
"""

from __future__ import annotations

import heapq

from model.analysis.reach import always_closed
from model.graph import Edge, TerminalGraph


def loop_length_m(graph: TerminalGraph, battery: str, load: str) -> float | None:
    """Return the length out and back from a battery to a load, by the shortest way. [m].

    The return is the drawn negative when there is one, else the mirror of the feed. None when no
    way leads there or a length on it is missing.
    """
    out = _shortest(graph, graph.number[f"{battery}.+"], graph.number[f"{load}.+"])
    if out is None:
        return None
    minus, home = graph.number.get(f"{load}.-"), graph.number[f"{battery}.-"]
    if minus is not None:
        back = _shortest(graph, minus, home)
        if back is not None:
            return _length(graph, out) + _length(graph, back)
    return _length(graph, out) + sum(_mirror_length(graph, edge) for edge in out)


def shadow_edges(graph: TerminalGraph) -> list[Edge]:
    """Return the positive cores that have a mirror twin: those of systems with implied returns."""
    implied = any(s.returns == "implied" for s in graph.diagram.systems.values())
    if not implied:
        return []
    return [edge for edge in graph.edges
            if edge.role == "conductor" and edge.core == "+"
            and "-" not in graph.diagram.conductors[edge.owner].cores
            and graph.diagram.conductors[edge.owner].purpose != "bank_link"]


def _mirror_length(graph: TerminalGraph, edge: Edge) -> float:
    if edge.role != "conductor":
        return 0.0
    wire = graph.diagram.conductors[edge.owner]
    if wire.return_length_m is not None:
        return wire.return_length_m
    return wire.length_m or 0.0


def _length(graph: TerminalGraph, way: list[Edge]) -> float:
    return sum(graph.diagram.conductors[edge.owner].length_m or 0.0
               for edge in way if edge.role == "conductor")


def _shortest(graph: TerminalGraph, start: int, finish: int) -> list[Edge] | None:
    """Return the edges of the shortest way of known length, or None."""
    best = {start: 0.0}
    via: dict[int, Edge] = {}
    queue = [(0.0, start)]
    while queue:
        length, node = heapq.heappop(queue)
        if node == finish:
            return _back(via, start, finish)
        if length > best[node]:
            continue
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if not always_closed(edge, node):
                continue
            step = 0.0
            if edge.role == "conductor":
                own = graph.diagram.conductors[edge.owner].length_m
                if own is None:
                    continue
                step = own
            after = edge.other(node)
            if length + step < best.get(after, float("inf")):
                best[after] = length + step
                via[after] = edge
                heapq.heappush(queue, (length + step, after))
    return None


def _back(via: dict[int, Edge], start: int, finish: int) -> list[Edge]:
    way, node = [], finish
    while node != start:
        way.append(via[node])
        node = via[node].other(node)
    return way[::-1]
