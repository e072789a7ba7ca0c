"""Which batteries can be joined at their positive posts, in any position of the switches.

A question about ways: contacts of one switch that never close together exclude each other.
Converters and chargers join nothing; a diode joins in its own direction.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Hashable, Mapping
from typing import TypeVar

from model.analysis.reach import reach
from model.graph import Edge, TerminalGraph
from model.kinds.storage import nominal_v

Node = TypeVar("Node", bound=Hashable)


def joinable(graph: TerminalGraph, battery: str) -> Mapping[str, tuple[Edge, ...]]:
    """Return each other battery whose post is reached first, with one shortest way to it."""
    posts = {graph.number[f"{c.id}.+"]: c.id for c in graph.diagram.components.values()
             if c.kind == "battery_bank" and c.id != battery}
    start = (graph.number[f"{battery}.+"], -1)
    came: dict[tuple[int, int], tuple[tuple[int, int], Edge] | None] = {start: None}
    queue = deque([start])
    found: dict[str, tuple[Edge, ...]] = {}
    while queue:
        state = queue.popleft()
        node, last = state
        if node in posts:
            found.setdefault(posts[node], _way(came, state))
            continue
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if not _joins(edge, node) or (last >= 0 and exclude(edge, graph.edges[last])):
                continue
            after = (edge.other(node), number if edge.role == "contact" else last)
            if after not in came:
                came[after] = (state, edge)
                queue.append(after)
    return found


def joined_ways(
    graph: TerminalGraph, battery: str, positions: Mapping[str, str]
) -> Mapping[str, tuple[Edge, ...]]:
    """Return each other battery that stands joined to one in a state, with a shortest way.

    Nothing flows by a diode both ways, and a relay that volts work opens by itself: neither joins.
    """
    posts = {graph.number[f"{c.id}.+"]: c.id for c in graph.diagram.components.values()
             if c.kind == "battery_bank" and c.id != battery}
    start = graph.number[f"{battery}.+"]
    came: dict[int, tuple[int, Edge] | None] = {start: None}
    found: dict[str, tuple[Edge, ...]] = {}
    queue = deque([start])
    while queue:
        node = queue.popleft()
        if node in posts:
            found[posts[node]] = _way(came, node)
            continue
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.other(node) not in came and not edge.one_way and _joins(edge, node) and (
                    graph.is_closed(edge, positions)) and not _by_volts(graph, edge):
                came[edge.other(node)] = (node, edge)
                queue.append(edge.other(node))
    return found


def _by_volts(graph: TerminalGraph, edge: Edge) -> bool:
    return (edge.role == "contact"
            and graph.diagram.components[edge.owner].kind == "voltage_sensing_relay")


def _joins(edge: Edge, node: int) -> bool:
    if edge.role in ("load", "source", "converter") or edge.core in ("L", "L2", "N", "E", "signal"):
        return False
    return not (edge.one_way and edge.a != node)


def exclude(one: Edge, other: Edge) -> bool:
    """Say whether two contacts of one switch are never closed together."""
    return (one.handle is not None and one.handle == other.handle and one.index != other.index
            and not one.closed_in & other.closed_in)


def _way(came: Mapping[Node, tuple[Node, Edge] | None], state: Node) -> tuple[Edge, ...]:
    way: list[Edge] = []
    while (step := came[state]) is not None:
        state, edge = step
        way.append(edge)
    return tuple(reversed(way))


def post_v(graph: TerminalGraph, battery: str, above: frozenset[str] = frozenset()) -> float | None:
    """Return the nominal volts of a battery's positive post, from its own blocks and from those
    that stand in series below it; no contact is passed. None when not stated. [V].
    """
    own = nominal_v(graph.diagram.components[battery].parameters)
    below = reach(graph, [graph.number[f"{battery}.-"]],
                  lambda edge, _: edge.role in ("conductor", "join"))
    for node in sorted(below):
        part = graph.component_of[node]
        if graph.names[node] == f"{part}.+" and part not in {battery, *above} and (
                graph.diagram.components[part].kind == "battery_bank"):
            lower = post_v(graph, part, above | {battery})
            return None if own is None or lower is None else lower + own
    return own
