"""The drawn negative between batteries: the way whose thinnest conductor is the largest."""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable

from model.analysis.copper import copper_mm2
from model.analysis.negatives import negative_passes
from model.analysis.reach import Passes
from model.graph import TerminalGraph


def widest_tie(
    graph: TerminalGraph, ones: Iterable[str], others: Iterable[str]
) -> tuple[str, ...]:
    """Return the conductors of the widest way from a minus post of some batteries to one of
    others, in order; nothing when there is no drawn way.

    A conductor of unknown size counts as wide: it is named by whoever asks.
    """
    return widest_way(graph, [graph.number[f"{battery}.-"] for battery in ones],
                      [graph.number[f"{battery}.-"] for battery in others])


def widest_way(
    graph: TerminalGraph, starts: Iterable[int], goals: Iterable[int],
    passes: Passes = negative_passes,
) -> tuple[str, ...]:
    """Return the conductors of the widest way from some terminals to others, over negatives unless
    told otherwise.
    """
    best = dict.fromkeys(starts, math.inf)
    came: dict[int, tuple[int, str]] = {}
    queue = [(-math.inf, start) for start in starts]
    while queue:
        width, node = heapq.heappop(queue)
        if -width < best[node]:
            continue
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if not passes(edge, node):
                continue
            own = math.inf
            if edge.role == "conductor":
                own = copper_mm2(graph.diagram.conductors[edge.owner]) or math.inf
            after, wide = edge.other(node), min(-width, own)
            if wide > best.get(after, -1.0):
                best[after] = wide
                came[after] = (node, edge.owner if edge.role == "conductor" else "")
                heapq.heappush(queue, (-wide, after))
    goal = max((node for node in goals if node in came), key=lambda n: best[n], default=None)
    wires = []
    while goal in came:
        goal, wire = came[goal]
        wires.append(wire)
    return tuple(wire for wire in reversed(wires) if wire)
