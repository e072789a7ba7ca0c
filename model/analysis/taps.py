"""Taps and circuits: where conductors start behind a device, and how far the device guards them.

A tap starts at a busbar, block, stud or panel bus, or where three conductors or more meet. A
circuit starts at the device itself. Both are followed in series to the next device, branch or
distribution part.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass

from model.analysis.leads import LeadEnd, Zone, ends_of, is_power, posts_of
from model.analysis.protection import NO_DEVICE, UNKNOWN_RATING, Feed, ProtectionTable
from model.analysis.served import Served, served
from model.graph import Edge, TerminalGraph


@dataclass(frozen=True, slots=True)
class Guard:
    """The worst device that guards a conductor's end. [A].

    `rated_a` is the largest known rating, None when none is known; `unknown` are devices on the
    way whose rating is missing.
    """

    rated_a: float | None
    device: str
    unknown: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Circuit:
    """Conductors in series behind a guard, from the device itself or from a tap."""

    conductor: str
    edge: int
    node: int
    at: str
    guard: Guard
    ends: tuple[LeadEnd, ...]
    chain: tuple[str, ...]
    serves: Served


def taps(
    graph: TerminalGraph, table: ProtectionTable, starter: frozenset[str],
    zones: Mapping[str, Zone],
) -> tuple[Circuit, ...]:
    """Return the circuits that start at a tap and are guarded by some device before it."""
    found, posts = [], posts_of(zones)
    for (index, node), feeds in table.feeds.items():
        edge = graph.edges[index]
        if not is_power(graph, edge) or not _is_tap(graph, node):
            continue
        guard = guard_of(feeds)
        if guard is not None:
            ends = ends_of(graph, starter, zones, edge, node, ())
            at = graph.component_of[node]
            found.append(_circuit(graph, edge, node, at, guard, ends, posts))
    return tuple(found)


def circuits(
    graph: TerminalGraph, table: ProtectionTable, starter: frozenset[str],
    zones: Mapping[str, Zone],
) -> tuple[Circuit, ...]:
    """Return the circuits that start at the very device that limits them."""
    found, posts = [], posts_of(zones)
    for device in graph.edges:
        if device.role != "overcurrent":
            continue
        for start in (device.a, device.b):
            for edge, node in _cores_at(graph, start):
                guard = guard_of(table.feeds.get((edge.index, node), ()))
                if guard is not None and device.item in (guard.device, *guard.unknown):
                    ends = ends_of(graph, starter, zones, edge, node, ())
                    found.append(_circuit(graph, edge, node, device.item, guard, ends, posts))
    return tuple(found)


def guard_of(feeds: tuple[Feed, ...]) -> Guard | None:
    """Return the guard of an end by its feeds; a way without any device is not counted."""
    known = [feed for feed in feeds if feed.rated_a not in (NO_DEVICE, UNKNOWN_RATING)]
    unknown = tuple(sorted({feed.device for feed in feeds if feed.rated_a == UNKNOWN_RATING}))
    if known:
        worst = max(known, key=lambda feed: feed.rated_a)
        return Guard(worst.rated_a, worst.device, unknown)
    return Guard(None, unknown[0], unknown) if unknown else None


def _circuit(
    graph: TerminalGraph, edge: Edge, node: int, at: str, guard: Guard, ends: tuple[LeadEnd, ...],
    posts: Mapping[int, str],
) -> Circuit:
    return Circuit(edge.owner, edge.index, node, at, guard, ends,
                   _chain(graph, edge.owner, ends), served(graph, edge, edge.other(node), posts))


def _is_tap(graph: TerminalGraph, node: int) -> bool:
    if any(graph.edges[i].role == "overcurrent" for i in graph.edges_at[node]):
        return False
    if graph.kinds[graph.component_of[node]].role == "distribution":
        return True
    return len({edge.owner for edge, _ in _cores_at(graph, node)}) > 2


def _cores_at(graph: TerminalGraph, start: int) -> list[tuple[Edge, int]]:
    """Return the power cores at a terminal and at those joined to it inside small parts."""
    seen, stack, found = {start}, [start], []
    while stack:
        here = stack.pop()
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            if is_power(graph, edge):
                found.append((edge, here))
            elif edge.role == "join" and graph.kinds[edge.owner].role != "distribution":
                after = edge.other(here)
                if after not in seen:
                    seen.add(after)
                    stack.append(after)
    return found


def _chain(graph: TerminalGraph, first: str, ends: tuple[LeadEnd, ...]) -> tuple[str, ...]:
    """Return the conductors that all ways have in common, up to the first distribution part.

    What goes on from there is tapped, and another circuit.
    """
    if not ends:
        return (first,)
    conductors = tuple(os.path.commonprefix([end.conductors for end in ends]))
    for place in range(len(conductors) - 1):
        one, other = (graph.diagram.conductors[item] for item in conductors[place:place + 2])
        shared = {e.component for e in one.ends()} & {e.component for e in other.ends()}
        if any(graph.kinds[part].role == "distribution" for part in shared):
            return conductors[:place + 1]
    return conductors
