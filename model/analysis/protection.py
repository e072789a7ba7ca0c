"""Protection seen from an end: which batteries can drive a fault into it, and past what device.

For each end of a conductor core: the stiff sources that can feed that end without going through
the conductor itself, and for each the worst overcurrent device on the way (the worst over all
ways). Nearly the whole overcurrent section is a question to this table.
"""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from model.analysis.cycles import blocks
from model.analysis.reach import always_closed, source_nodes
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


@dataclass(frozen=True, slots=True)
class Inward:
    """What is met going into a conductor from one end: the length to the first device.

    `length_m` counts conductors in series; None when one of them, named in `missing`, has no
    length. `sheathed` is True only when all of it is. `device` is "" when a branch, a load or an
    end comes first.
    """

    length_m: float | None
    sheathed: bool | None
    device: str
    conductors: tuple[str, ...]
    missing: tuple[str, ...] = ()
    device_rated_a: float | None = None
    stops_at: str = ""


@dataclass(slots=True)
class ProtectionTable:
    """Feeds of every conductor end: by (edge number, node)."""

    feeds: dict[tuple[int, int], tuple[Feed, ...]] = field(default_factory=dict)


def is_positive_core(edge: Edge) -> bool:
    """Say whether an edge is a core of a power conductor that is not a plain negative."""
    return edge.role == "conductor" and edge.core not in ("signal", "L", "L2", "N", "E")


def rating_of(edge: Edge) -> float:
    """Return what an edge adds to a way: its device's rating, or NO_DEVICE. [A]."""
    if edge.role != "overcurrent":
        return NO_DEVICE
    rated = edge.device.get("rated_a")
    return UNKNOWN_RATING if rated is None else float(rated)


def protection_table(graph: TerminalGraph) -> ProtectionTable:
    """Return the feeds seen from both ends of every DC core."""
    table = ProtectionTable()
    bridges = _bridges(graph)
    for component in graph.diagram.components.values():
        if component.kind != "battery_bank":
            continue
        starts = source_nodes(graph, component.id)
        best, via = _worst_devices(graph, starts)
        for edge in graph.edges:
            if is_positive_core(edge):
                for node in (edge.a, edge.b):
                    _note_feed(graph, table, component.id, starts, edge, node, best, via, bridges)
    return table


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
        own_best, own_via = _worst_devices(graph, starts, without=edge.index)
        if node not in own_best:
            return
        rated, device = own_best[node], own_via
    feed = Feed(battery, rated, _limiting(graph, device, node, rated))
    key = (edge.index, node)
    table.feeds[key] = (*table.feeds.get(key, ()), feed)


def _limiting(graph: TerminalGraph, via: Mapping[int, int], node: int, rated: float) -> str:
    """Return the id of the device that limits the worst way to a node, "" for none."""
    while node in via:
        edge = graph.edges[via[node]]
        if rated != NO_DEVICE and rating_of(edge) == rated:
            return edge.item
        node = edge.other(node)
    return ""


def _bridges(graph: TerminalGraph) -> set[int]:
    def neighbours(node: int) -> Iterable[tuple[int, int]]:
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.role not in ("load", "source", "converter"):
                yield number, edge.other(node)

    found = blocks(range(len(graph.names)), neighbours)
    return {next(iter(block)) for block in found if len(block) == 1}


def _worst_devices(
    graph: TerminalGraph, starts: Iterable[int], without: int = -1
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
            if number == without or not always_closed(edge, node):
                continue
            after = edge.b if edge.a == node else edge.a
            wide = min(-width, rating_of(edge))
            if after not in done and wide > best.get(after, -1.0):
                best[after] = wide
                via[after] = number
                heapq.heappush(queue, (-wide, after))
    return best, via


def branches_at(graph: TerminalGraph, node: int) -> list[Edge]:
    """Return the DC conductor cores that meet where a terminal is, joined terminals included."""
    seen, stack, found = {node}, [node], []
    while stack:
        here = stack.pop()
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            if is_positive_core(edge):
                found.append(edge)
            elif edge.role == "join":
                after = edge.other(here)
                if after not in seen:
                    seen.add(after)
                    stack.append(after)
    return found


def inward(graph: TerminalGraph, edge: Edge, node: int) -> Inward:
    """Walk from an end into its conductor as far as the first device, branch, load or converter.

    Switches and single joints are passed; their own length is nothing. A device bolted on the
    battery post counts as no length.
    """
    conductors: list[str] = []
    missing: list[str] = []
    length, sheaths, here, current = 0.0, [], node, edge
    while True:
        wire = graph.diagram.conductors[current.owner]
        if wire.id in conductors:
            break
        conductors.append(wire.id)
        here = current.other(here)
        device = _device_at(graph, here)
        if not (device is not None and device.device.get("on_post") is True):
            if wire.length_m is None:
                missing.append(wire.id)
            length += wire.length_m or 0.0
            sheaths.append(True if wire.in_enclosure else _sheathed(wire.sheath))
        if device is not None:
            return _inward(length, sheaths, device.item, conductors, missing,
                           device.device.get("rated_a"), graph.component_of[here])
        onward = _onward(graph, here, current)
        if onward is None:
            break
        here, current = onward
    return _inward(length, sheaths, "", conductors, missing, None, graph.component_of[here])


def _inward(
    length: float, sheaths: list[bool | None], device: str, conductors: list[str],
    missing: list[str], rated_a: float | None, stops_at: str,
) -> Inward:
    sheathed: bool | None = True
    if any(s is False for s in sheaths):
        sheathed = False
    elif any(s is None for s in sheaths):
        sheathed = None
    return Inward(None if missing else round(length, 6), sheathed, device, tuple(conductors),
                  tuple(missing), rated_a, stops_at)


def _sheathed(sheath: str | None) -> bool | None:
    return None if sheath is None else sheath == "whole"


def _device_at(graph: TerminalGraph, node: int) -> Edge | None:
    """Return the overcurrent device at a terminal, if it has one there."""
    return next((graph.edges[i] for i in graph.edges_at[node]
                 if graph.edges[i].role == "overcurrent"), None)


def _onward(graph: TerminalGraph, node: int, came: Edge) -> tuple[int, Edge] | None:
    """Return where the one series conductor goes on from a terminal, or None at a branch."""
    seen, stack, exits = {node}, [node], []
    while stack:
        here = stack.pop()
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            if number == came.index:
                continue
            if is_positive_core(edge):
                exits.append((here, edge))
            elif edge.role in ("join", "contact"):
                after = edge.other(here)
                if after not in seen:
                    seen.add(after)
                    stack.append(after)
            elif edge.role in ("overcurrent", "load", "source", "diode", "converter"):
                return None
    return exits[0] if len(exits) == 1 else None
