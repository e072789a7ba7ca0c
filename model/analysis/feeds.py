"""Points that are fed through two devices or more at once, so that no one device makes them dead.

A point is a load's or panel's plus with all that is joined to it without a device: conductors,
closed contacts, diodes backwards.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from model.analysis.banks import Bank
from model.analysis.reach import follow, reach, source_nodes, stiff_ways
from model.analysis.unswitched import mains_open
from model.analysis.usual_states import usual_states
from model.graph import Edge, TerminalGraph

BARS = ("panel", "fuse_block")
NOT_LOADS = ("starter", "inverter_charger")


@dataclass(frozen=True, slots=True)
class FedPoint:
    """Loads and panels at one point, the devices that feed it at once, by diodes or not.

    `last_leads` are conductors each of which alone joins a device to the point.
    """

    loads: tuple[str, ...]
    devices: tuple[str, ...]
    by_diodes: bool
    last_leads: tuple[str, ...]


def fed_points(graph: TerminalGraph, banks: tuple[Bank, ...]) -> tuple[FedPoint, ...]:
    """Return the points with two feeds in some usual state, each once."""
    return graph.of_wiring("fed points", lambda: _fed_points(graph, banks))


def _fed_points(graph: TerminalGraph, banks: tuple[Bank, ...]) -> tuple[FedPoint, ...]:
    found: dict[tuple[str, ...], FedPoint] = {}
    for state in usual_states(graph.diagram):
        for point in _in_state(graph, banks, state.positions, state.absent):
            found.setdefault(point.loads, point)
    return tuple(found.values())


def _in_state(
    graph: TerminalGraph, banks: tuple[Bank, ...], positions: Mapping[str, str],
    absent: frozenset[str],
) -> Iterator[FedPoint]:
    batteries = [c.id for c in graph.diagram.components.values()
                 if c.kind == "battery_bank" and c.id not in absent]
    parted = {**positions, **mains_open(graph)}
    seen: set[int] = set()
    for node in _fed_nodes(graph):
        if node in seen:
            continue
        zone = _zone(graph, node, parted, diodes=True)
        seen |= zone
        roles = [graph.edges[i].role for n in zone for i in graph.edges_at[n]]
        if "source" in roles or roles.count("overcurrent") < 2:
            continue
        feeding = _feeding(graph, zone, positions, batteries)
        if len(_as_one(graph, feeding, banks)) < 2:
            continue
        bare = _zone(graph, node, parted, diodes=False)
        by_diodes = len(_feeding(graph, bare, positions, batteries)) < 2
        devices = tuple(sorted({edge.item for edge in feeding}))
        yield FedPoint(_at(graph, zone), devices, by_diodes, _last_leads(graph, zone, feeding))


def _fed_nodes(graph: TerminalGraph) -> Iterator[int]:
    for edge in graph.edges:
        if edge.role == "load" and graph.diagram.components[edge.owner].kind not in NOT_LOADS:
            yield edge.a
    for component in graph.diagram.components.values():
        if component.kind in BARS:
            yield graph.number[f"{component.id}.bus+"]


def _zone(
    graph: TerminalGraph, node: int, positions: Mapping[str, str], diodes: bool
) -> set[int]:
    def passes(edge: Edge, here: int) -> bool:
        if edge.role == "diode":
            return diodes and edge.b == here
        if edge.role not in ("conductor", "join", "contact") or edge.core == "signal":
            return False
        return graph.is_closed(edge, positions)
    return reach(graph, [node], passes)


def _feeding(
    graph: TerminalGraph, zone: set[int], positions: Mapping[str, str], batteries: list[str]
) -> list[Edge]:
    """Return the devices at a zone's edge that are live on their outer side."""
    sources = (node for battery in batteries for node in source_nodes(graph, battery))
    outside = follow(stiff_ways(graph, positions), sources, zone)
    found = {}
    for node in zone:
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.role == "overcurrent" and edge.other(node) in outside and (
                    graph.is_closed(edge, positions)):
                found[number] = edge
    return list(found.values())


def _as_one(
    graph: TerminalGraph, feeding: list[Edge], banks: tuple[Bank, ...]
) -> set[str]:
    """Return the feeds, the fuses of single batteries of one bank as one."""
    bank_of = {item: bank for bank in banks for item in bank.batteries}
    feeds = set()
    for edge in feeding:
        plain = reach(graph, [edge.a, edge.b],
                      lambda e, n: e.role in ("conductor", "join"))
        own = {graph.component_of[n] for n in plain if graph.component_of[n] in bank_of}
        bank = bank_of[min(own)] if own else None
        blocks = bank is not None and own < set(bank.batteries)
        feeds.add(f"bank {bank.id}" if blocks and bank is not None else edge.item)
    return feeds


def _at(graph: TerminalGraph, zone: set[int]) -> tuple[str, ...]:
    """Return the panels and loads at a zone."""
    parts = {graph.component_of[n] for n in zone
             if graph.diagram.components[graph.component_of[n]].kind in BARS
             and graph.names[n].endswith(".bus+")}
    loads = {edge.owner for n in zone for i in graph.edges_at[n]
             if (edge := graph.edges[i]).role == "load" and edge.a == n}
    return (*sorted(parts), *sorted(loads))


def _last_leads(graph: TerminalGraph, zone: set[int], feeding: list[Edge]) -> tuple[str, ...]:
    found = []
    for edge in feeding:
        inner = edge.a if edge.a in zone else edge.b
        wires = [graph.edges[i].owner for i in graph.edges_at[inner]
                 if graph.edges[i].role == "conductor"]
        if len(wires) == 1:
            found.append(wires[0])
    return tuple(sorted(set(found)))
