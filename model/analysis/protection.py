"""Protection seen from an end: which batteries can drive a fault into it, and past what device.

For each end of a conductor core: the stiff sources that can feed that end without going through
the conductor itself, and for each the worst overcurrent device on the way (the worst over all
ways, those over emergency links apart). Nearly the whole overcurrent section is a question to
this table.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from model.analysis.cycles import blocks
from model.analysis.reach import always_closed, source_nodes
from model.analysis.starter import is_emergency_link
from model.graph import Edge, TerminalGraph

NO_DEVICE = math.inf
UNKNOWN_RATING = 1e9


@dataclass(frozen=True, slots=True)
class Feed:
    """A battery that can feed an end, and the rating of the worst device on the way. [A].

    `rated_a` is NO_DEVICE when some way has none and UNKNOWN_RATING when a rating is missing.
    """

    battery: str
    rated_a: float
    device: str = ""


@dataclass(slots=True)
class ProtectionTable:
    """Feeds of every conductor end by (edge number, node), and which side of each device is
    downstream: fed through it, or from elsewhere when the device stands in a ring. `largest` is
    the rating of the worst device before each node, over the batteries that have one. [A]."""

    feeds: dict[tuple[int, int], tuple[Feed, ...]] = field(default_factory=dict)
    downstream: dict[int, frozenset[int]] = field(default_factory=dict)
    largest: dict[int, float] = field(default_factory=dict)
    unknown_a: float = UNKNOWN_RATING

    def worst(self, edge: Edge, node: int) -> Feed | None:
        """Return the feed of an end with the largest device, None when nothing feeds it."""
        return max(self.feeds.get((edge.index, node), ()), key=lambda f: f.rated_a, default=None)


def is_positive_core(edge: Edge) -> bool:
    """Say whether an edge is a core of a power conductor that is not a plain negative."""
    return edge.role == "conductor" and edge.core not in ("signal", "L", "L2", "N", "E")


def rating_of(edge: Edge, unknown_a: float = UNKNOWN_RATING) -> float:
    """Return what an edge adds to a way: its device's rating, or NO_DEVICE. [A]."""
    if edge.role != "overcurrent":
        return NO_DEVICE
    rated = edge.device.get("rated_a")
    return unknown_a if rated is None else float(rated)


def protection_table(
    graph: TerminalGraph, unknown_a: float = UNKNOWN_RATING
) -> ProtectionTable:
    """Return the feeds seen from both ends of every DC core.

    A device of unknown rating counts as `unknown_a`: with 0 A a feed of 0 A names the device
    whose rating would have to be known.
    """
    table = ProtectionTable(unknown_a=unknown_a)
    bridges = _bridges(graph)
    downstream: dict[int, set[int]] = {}
    for component in graph.diagram.components.values():
        if component.kind != "battery_bank":
            continue
        starts = source_nodes(graph, component.id)
        best, via = _worst_devices(graph, starts, unknown_a=unknown_a)
        for node, rated in best.items():
            if rated != NO_DEVICE:
                table.largest[node] = max(rated, table.largest.get(node, 0.0))
        for edge in graph.edges:
            if is_positive_core(edge):
                for node in (edge.a, edge.b):
                    _note_feed(graph, table, component.id, starts, edge, node, best, via, bridges)
            elif edge.role == "overcurrent":
                downstream.setdefault(edge.index, set()).update(
                    _downstream(edge, best, via, bridges))
    table.downstream = {number: frozenset(nodes) for number, nodes in downstream.items()}
    return table


def _downstream(
    edge: Edge, best: Mapping[int, float], via: Mapping[int, int], bridges: set[int]
) -> set[int]:
    """Return the terminals of a device that are fed through it."""
    if edge.index in bridges:
        return {node for node in (edge.a, edge.b) if via.get(node) == edge.index}
    return {node for node in (edge.a, edge.b) if node in best}


def _note_feed(
    graph: TerminalGraph, table: ProtectionTable, battery: str, starts: Iterable[int], edge: Edge,
    node: int, best: Mapping[int, float], via: Mapping[int, int], bridges: set[int],
) -> None:
    if node not in best:
        return
    rated, device = best[node], via
    if via.get(node) == edge.index:
        if edge.index in bridges:
            return
        own_best, own_via = _worst_devices(graph, starts, edge.index, table.unknown_a)
        if node not in own_best:
            return
        rated, device = own_best[node], own_via
    feed = Feed(battery, rated, _limiting(graph, device, node, rated, table.unknown_a))
    key = (edge.index, node)
    table.feeds[key] = (*table.feeds.get(key, ()), feed)


def _limiting(
    graph: TerminalGraph, via: Mapping[int, int], node: int, rated: float, unknown_a: float
) -> str:
    """Return the id of the device that limits the worst way to a node, "" for none."""
    while node in via:
        edge = graph.edges[via[node]]
        if rated != NO_DEVICE and rating_of(edge, unknown_a) == rated:
            return edge.item
        node = edge.other(node)
    return ""


def _is_exempt(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether a way leads over an emergency link: it needs no device, and is closed in need."""
    return edge.role == "contact" and is_emergency_link(graph, edge.owner)


def _bridges(graph: TerminalGraph) -> set[int]:
    beside: list[list[tuple[int, int]]] = [[] for _ in graph.names]
    for edge in graph.edges:
        if edge.role not in ("load", "source", "converter") and not _is_exempt(graph, edge):
            beside[edge.a].append((edge.index, edge.b))
            beside[edge.b].append((edge.index, edge.a))
    found = blocks(range(len(graph.names)), beside.__getitem__)
    return {next(iter(block)) for block in found if len(block) == 1}


def _worst_devices(
    graph: TerminalGraph, starts: Iterable[int], without: int = -1,
    unknown_a: float = UNKNOWN_RATING,
) -> tuple[dict[int, float], dict[int, int]]:
    """Return, for each node, the largest over all ways of the smallest device on the way.

    A widest-path search: the way that lets the largest current through is the one that counts.
    """
    best = dict.fromkeys(starts, NO_DEVICE)
    via: dict[int, int] = {}
    queue = [(-NO_DEVICE, node) for node in best]
    done: set[int] = set()
    while queue:
        width, node = heapq.heappop(queue)
        if node in done:
            continue
        done.add(node)
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if number == without or not always_closed(edge, node) or _is_exempt(graph, edge):
                continue
            after = edge.b if edge.a == node else edge.a
            wide = min(-width, rating_of(edge, unknown_a))
            if after not in done and wide > best.get(after, -1.0):
                best[after] = wide
                via[after] = number
                heapq.heappush(queue, (-wide, after))
    return best, via
