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
from model.analysis.protection import NO_DEVICE, UNKNOWN_RATING, ProtectionTable
from model.analysis.served import Served, served
from model.graph import Edge, TerminalGraph


@dataclass(frozen=True, slots=True)
class Guard:
    """The worst device that guards a conductor's end. [A].

    `rated_a` is the largest that a fault may pass, None when a missing rating leaves no bound;
    `unknown` are devices on the way whose rating would have to be known for a lower bound.
    """

    rated_a: float | None
    device: str
    unknown: tuple[str, ...] = ()

    @property
    def sure_a(self) -> float | None:
        """Return the rating when every one that bears on it is known. [A]."""
        return None if self.unknown else self.rated_a


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


@dataclass(frozen=True, slots=True)
class Network:
    """What circuits are read from: the graph, the feeds seen from ends with unknown ratings taken
    as boundless and as nothing, the starter circuit and the zones of the batteries."""

    graph: TerminalGraph
    worst: ProtectionTable
    best: ProtectionTable
    starter: frozenset[str]
    zones: Mapping[str, Zone]


def taps(network: Network) -> tuple[Circuit, ...]:
    """Return the circuits that start at a tap and are guarded by some device before it."""
    graph = network.graph
    found, posts = [], posts_of(network.zones)
    for index, node in network.worst.feeds:
        edge = graph.edges[index]
        if not is_power(graph, edge) or edge.owner in network.starter or node in posts:
            continue
        guard = guard_of(network, edge, node) if _is_tap(graph, node) else None
        if guard is not None:
            found.append(_circuit(network, edge, node, graph.component_of[node], guard, posts))
    return tuple(found)


def circuits(network: Network) -> tuple[Circuit, ...]:
    """Return the circuits that start at a device, guarded by it or by a smaller one before."""
    graph = network.graph
    found, posts = [], posts_of(network.zones)
    for device in graph.edges:
        if device.role != "overcurrent":
            continue
        for start in (device.a, device.b):
            for edge, node in _cores_at(graph, start):
                guard = guard_of(network, edge, node)
                if guard is not None:
                    found.append(_circuit(network, edge, node, device.item, guard, posts))
    return tuple(found)


def guard_of(network: Network, edge: Edge, node: int) -> Guard | None:
    """Return the guard of a conductor's end; a way without any device is not counted."""
    feeds = [feed for feed in network.worst.feeds.get((edge.index, node), ())
             if feed.rated_a != NO_DEVICE]
    if not feeds:
        return None
    unknown = tuple(sorted({feed.device for feed in network.best.feeds.get((edge.index, node), ())
                            if feed.rated_a == 0}))
    worst = max(feeds, key=lambda feed: feed.rated_a)
    if worst.rated_a == UNKNOWN_RATING:
        return Guard(None, worst.device, unknown or (worst.device,))
    return Guard(worst.rated_a, worst.device, unknown)


def _circuit(
    network: Network, edge: Edge, node: int, at: str, guard: Guard, posts: Mapping[int, str]
) -> Circuit:
    graph = network.graph
    ends = ends_of(graph, network.starter, network.zones, edge, node, ())
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
