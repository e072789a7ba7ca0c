"""What a manual switch serves, and by which second path that stays live with the switch open.

A switch belongs to the batteries that reach it over conductors and devices alone, one of a single
circuit also past main switches; its far side is what it serves. Contacts that a coil or volts work
may close at any time; an emergency link stays open.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from model.analysis.banks import is_isolating, is_main_switch, loads_at
from model.analysis.isolation_devices import by_hand
from model.analysis.reach import reach, source_nodes
from model.analysis.starter import is_emergency_link
from model.graph import Edge, TerminalGraph

PLAIN = ("conductor", "join")


@dataclass(frozen=True, slots=True)
class SecondPath:
    """A switch, the loads that stay live behind it, and the way from a source that feeds them.

    `supply` is the switch's terminal on its own batteries' side.
    """

    switch: str
    loads: tuple[str, ...]
    source: str
    way: tuple[Edge, ...]
    supply: int


def second_paths(graph: TerminalGraph, named: Mapping[str, bool]) -> Iterator[SecondPath]:
    """Yield the second path of each switch that has one.

    `named` holds the switches to look at: whether what they kill is named on them. Only then a
    main switch of another bank counts as a second path: else both are known to feed the place.
    """
    for switch, is_named in named.items():
        own = [e for e in graph.edges_of.get(switch, ()) if is_isolating(graph, e)]
        terminals = {n for e in own for n in (e.a, e.b)}
        fed = {n: _plain_batteries(graph, n, past_mains=not is_main_switch(graph, switch))
               for n in terminals}
        load_side = [n for n in terminals if not fed[n]]
        supply = [n for n in terminals if fed[n]]
        if not supply or not load_side:
            continue
        batteries = frozenset().union(*fed.values())
        found = _path(graph, switch, load_side, batteries, is_named)
        if found is not None:
            loads = loads_at(graph, _served(graph, switch, load_side))
            if loads:
                yield SecondPath(switch, tuple(loads), found[0], found[1], min(supply))


def _plain_batteries(
    graph: TerminalGraph, node: int, past_mains: bool = False
) -> frozenset[str]:
    """Return the batteries joined to a terminal by conductors and devices alone; for a switch of
    one circuit also past the main switches before it."""
    def passes(edge: Edge, _: int) -> bool:
        if edge.role == "contact":
            return past_mains and is_main_switch(graph, edge.owner) and graph.is_closed(edge, {})
        return edge.role in PLAIN or (
            edge.role == "overcurrent" and (past_mains or not is_isolating(graph, edge)))

    joined = reach(graph, [node], passes)
    return frozenset(graph.component_of[n] for n in joined if graph.names[n].endswith(".+")
                     and graph.diagram.components[graph.component_of[n]].kind == "battery_bank")


def _served(graph: TerminalGraph, switch: str, load_side: list[int]) -> set[int]:
    """Return what is reached from a switch's far side with all as usual, up to other banks."""
    posts = {n for c in graph.diagram.components.values() if c.kind == "battery_bank"
             for n in graph.nodes_of(c.id)}

    def passes(edge: Edge, node: int) -> bool:
        if edge.owner == switch or edge.role in ("load", "source", "converter") or node in posts:
            return False
        if edge.role == "contact" and is_main_switch(graph, edge.owner):
            return False
        return graph.is_closed(edge, {}) and not (edge.one_way and edge.a != node)
    return reach(graph, load_side, passes)


def _path(
    graph: TerminalGraph, switch: str, load_side: list[int], own: frozenset[str], is_named: bool
) -> tuple[str, tuple[Edge, ...]] | None:
    """Return the nearest source that reaches the far side with the switch open, and the way."""
    found: list[tuple[str, tuple[Edge, ...]]] = []
    for component in graph.diagram.components.values():
        source = graph.kinds[component.id].source
        if source is None or source.kind == "alternator":
            continue
        came = _walk(graph, switch, component.id, own, is_named)
        for node in load_side:
            if node in came:
                found.append((component.id, _back(came, node)))
    return min(found, key=lambda pair: (len(pair[1]), pair[0]), default=None)


def _walk(
    graph: TerminalGraph, switch: str, source: str, own: frozenset[str], is_named: bool
) -> dict[int, Edge | None]:
    came: dict[int, Edge | None] = dict.fromkeys(source_nodes(graph, source))
    queue = deque(came)
    while queue:
        node = queue.popleft()
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            after = edge.other(node)
            if after in came or edge.owner == switch or not _passes(graph, edge, node):
                continue
            if edge.role == "contact" and is_main_switch(graph, edge.owner) and not is_named and (
                    not _plain_batteries(graph, node) & own):
                continue
            came[after] = edge
            queue.append(after)
    return came


def _passes(graph: TerminalGraph, edge: Edge, node: int) -> bool:
    if edge.role in ("load", "source") or (edge.one_way and edge.a != node):
        return False
    part = graph.diagram.components[edge.owner] if edge.role != "conductor" else None
    if edge.role == "converter" and part is not None:
        survives = part.parameters.get("survives_no_battery") is True
        return part.kind == "dc_dc_converter" or survives
    if edge.role == "contact" and is_emergency_link(graph, edge.owner):
        return False
    if edge.role == "contact" and edge.handle is not None and not by_hand(graph, edge):
        return True
    return graph.is_closed(edge, {})


def _back(came: Mapping[int, Edge | None], node: int) -> tuple[Edge, ...]:
    way: list[Edge] = []
    while (edge := came[node]) is not None:
        way.append(edge)
        node = edge.other(node)
    return tuple(reversed(way))
