"""The drawn negative between two batteries: the way whose thinnest conductor is the largest."""

from __future__ import annotations

import heapq
import math

from model.analysis.negatives import is_drawn, negative_passes
from model.diagram import Conductor
from model.graph import TerminalGraph
from model.units import area_mm2


def copper_mm2(wire: Conductor) -> float | None:
    """Return the copper of a conductor with its equals side by side, None when unknown. [mm2]."""
    if wire.size is None:
        return None
    return area_mm2(wire.size.standard, wire.size.text) * (wire.parallel_count or 1)


def widest_tie(graph: TerminalGraph, one: str, other: str) -> tuple[str, ...] | None:
    """Return the conductors of the widest way between two minus posts, in order.

    None when one of them is not drawn or there is no way. A conductor of unknown size counts as
    wide: it is named by whoever asks.
    """
    start, goal = graph.number[f"{one}.-"], graph.number[f"{other}.-"]
    if not is_drawn(graph, start) or not is_drawn(graph, goal):
        return None
    best = {start: math.inf}
    came: dict[int, tuple[int, str]] = {}
    queue = [(-math.inf, start)]
    while queue:
        width, node = heapq.heappop(queue)
        if -width < best[node]:
            continue
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if not negative_passes(edge, node):
                continue
            own = math.inf
            if edge.role == "conductor":
                own = copper_mm2(graph.diagram.conductors[edge.owner]) or math.inf
            after, wide = edge.other(node), min(-width, own)
            if wide > best.get(after, -1.0):
                best[after] = wide
                came[after] = (node, edge.owner if edge.role == "conductor" else "")
                heapq.heappush(queue, (-wide, after))
    if goal not in came:
        return None
    wires = []
    while goal != start:
        goal, wire = came[goal]
        wires.append(wire)
    return tuple(wire for wire in reversed(wires) if wire)
