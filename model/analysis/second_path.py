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
from model.analysis.reach import came_from, reach, source_nodes, way_back
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
        supply = [n for n in terminals if fed[n]]
        load_side = [n for n in terminals if not fed[n]]
        round_it = bridged(graph, switch) if not load_side else None
        if round_it is not None:
            yield round_it
        if not supply or not load_side:
            continue
        batteries = frozenset().union(*fed.values())
        found = _path(graph, switch, load_side, batteries, is_named)
        if found is not None:
            loads = loads_at(graph, _served(graph, switch, load_side))
            if loads:
                yield SecondPath(switch, tuple(loads), found[0], found[1], min(supply))


def bridged(graph: TerminalGraph, switch: str) -> SecondPath | None:
    """Return the conductor that leads round a switch, and what it keeps live behind it: of those
    on the way round, the one without which the fewest loads go dead."""
    return graph.once(f"bridged {switch}", lambda: _bridged(graph, switch))


def _bridged(graph: TerminalGraph, switch: str) -> SecondPath | None:
    contacts = [e for e in graph.edges_of.get(switch, ()) if is_isolating(graph, e)]
    posts = _posts(graph)

    def live(without: str = "") -> frozenset[int]:
        return frozenset(reach(graph, posts, lambda e, _: e.owner not in (switch, without) and (
            e.role in (*PLAIN, "overcurrent") or (
                e.role == "contact" and graph.is_closed(e, {})))))

    for contact in contacts:
        far = _farther(graph, contact)
        way = _round(graph, contact, far)
        loads = set(loads_at(graph, live())) if way else set()
        lost = {e.owner: (loads - set(loads_at(graph, live(e.owner))), e) for e in way
                if e.role == "conductor"}
        wire = min((w for w, (gone, _) in lost.items() if gone),
                   key=lambda w: len(lost[w][0]), default=None)
        if wire is not None:
            near = contact.other(far)
            source = min(_plain_batteries(graph, near, past_mains=True), default="")
            return SecondPath(switch, tuple(sorted(lost[wire][0])), source, (lost[wire][1],), near)
    return None


def _leads(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether an edge is a conductor, or a device that no hand opens."""
    return edge.role in PLAIN or (edge.role == "overcurrent" and not is_isolating(graph, edge))


def _round(graph: TerminalGraph, contact: Edge, far: int) -> tuple[Edge, ...]:
    """Return the conductors and devices that lead round a contact, none if nothing does."""
    came = came_from(graph, [contact.other(far)], lambda edge, _: (
        edge.owner != contact.owner and _leads(graph, edge)))
    return way_back(came, far) if far in came else ()


def _posts(graph: TerminalGraph) -> set[int]:
    return {n for c in graph.diagram.components.values() if c.kind == "battery_bank"
            for n in graph.nodes_of(c.id)}


def _farther(graph: TerminalGraph, contact: Edge) -> int:
    """Return the terminal of a contact that lies farther from the batteries."""
    seen = _posts(graph)
    queue = deque(seen)
    last = contact.b
    while queue:
        node = queue.popleft()
        if node in (contact.a, contact.b):
            last = node
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            after = edge.other(node)
            if after not in seen and edge.owner != contact.owner and edge.role not in (
                    "load", "source", "converter"):
                seen.add(after)
                queue.append(after)
    return last


def _plain_batteries(
    graph: TerminalGraph, node: int, past_mains: bool = False
) -> frozenset[str]:
    """Return the batteries joined to a terminal by conductors and devices alone; for a switch of
    one circuit also past the main switches before it."""
    def passes(edge: Edge, _: int) -> bool:
        if edge.role == "contact":
            is_passed = _is_own_contactor(graph, edge) or (
                past_mains and is_main_switch(graph, edge.owner))
            return is_passed and graph.is_closed(edge, {})
        return edge.role in PLAIN or (
            edge.role == "overcurrent" and (past_mains or not is_isolating(graph, edge)))

    joined = reach(graph, [node], passes)
    parts = {graph.component_of[n] for n in joined if graph.names[n].endswith((".+", ".-"))}
    return frozenset(part for part in parts
                     if graph.diagram.components[part].kind == "battery_bank")


def _is_own_contactor(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether a contact is a contactor's that stands closed: a bank's own, by its unit."""
    return graph.diagram.components[edge.owner].kind == "contactor" and not by_hand(graph, edge)


def _served(graph: TerminalGraph, switch: str, load_side: list[int]) -> set[int]:
    """Return what is reached from a switch's far side with all as usual, up to other banks."""
    posts = _posts(graph)

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
                found.append((component.id, way_back(came, node)))
    return min(found, key=lambda pair: (len(pair[1]), pair[0]), default=None)


def _walk(
    graph: TerminalGraph, switch: str, source: str, own: frozenset[str], is_named: bool
) -> dict[int, Edge | None]:
    def passes(edge: Edge, node: int) -> bool:
        if edge.owner == switch or not _passes(graph, edge, node):
            return False
        is_main = edge.role == "contact" and is_main_switch(graph, edge.owner)
        return not is_main or is_named or bool(_plain_batteries(graph, node) & own)

    return came_from(graph, source_nodes(graph, source), passes)


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
