"""The AC side: its sources and consumers, the devices between them, and what joins two sources.

Live, neutral and earth are separate terminals of the network, so that each is followed by itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from model.analysis.reach import came_from, reach, way_back
from model.diagram import Component
from model.graph import Edge, TerminalGraph

INLETS = ("shore_inlet",)
OWN_SOURCES = ("generating_set", "inverter", "inverter_charger", "isolation_transformer")
CONSUMERS = ("ac_load", "ac_socket", "shore_charger", "inverter_charger")
_OUT = {"inverter_charger": "out", "isolation_transformer": "out"}
_IN = {"inverter_charger": "in", "isolation_transformer": "in"}
NO_WAY = frozenset({"load", "source", "converter"})


@dataclass(frozen=True, slots=True)
class AcSource:
    """Something that makes the AC side live: its part and the terminals it gives by."""

    part: Component
    live: int
    neutral: int
    earth: int


@dataclass(frozen=True, slots=True)
class FirstDevice:
    """The first device met from a source's live terminal, and the conductors up to it.

    `edge` is None where a way ends at a part without having met any.
    """

    edge: Edge | None
    part: str
    conductors: tuple[str, ...]


def ac_sources(graph: TerminalGraph) -> tuple[AcSource, ...]:
    """Return inlets, generating sets, inverters and isolating transformers."""
    return graph.once("ac sources", lambda: tuple(
        AcSource(part, *(graph.number[f"{part.id}.{_OUT.get(part.kind, '')}{pole}"]
                         for pole in ("L", "N", "E")))
        for part in graph.diagram.components.values() if part.kind in (*INLETS, *OWN_SOURCES)))


def inlets(graph: TerminalGraph) -> list[AcSource]:
    """Return the shore inlets."""
    return [source for source in ac_sources(graph) if source.part.kind in INLETS]


def consumers(graph: TerminalGraph) -> list[Component]:
    """Return the parts that AC feeds."""
    return [p for p in graph.diagram.components.values() if p.kind in CONSUMERS]


def terminal(graph: TerminalGraph, part: Component, pole: str) -> int:
    """Return the terminal at which AC enters a part."""
    return graph.number[f"{part.id}.{_IN.get(part.kind, '')}{pole}"]


def passes_ac(edge: Edge, _node: int) -> bool:
    """Pass every way of the AC side, all switches and breakers closed; no part that converts."""
    return edge.role not in NO_WAY


def fed_from(graph: TerminalGraph, node: int) -> set[int]:
    """Return the terminals that a terminal is joined to with everything closed."""
    return reach(graph, [node], passes_ac)


def first_devices(graph: TerminalGraph, node: int) -> tuple[FirstDevice, ...]:
    """Return the first devices on all ways from a live terminal, and where a way has none."""
    came = came_from(graph, [node], lambda edge, at: (
        passes_ac(edge, at) and edge.role != "overcurrent"))
    found = []
    for at in came:
        wires = tuple(dict.fromkeys(
            edge.owner for edge in way_back(came, at) if edge.role == "conductor"))
        edges = [graph.edges[i] for i in graph.edges_at[at]]
        devices = [edge for edge in edges if edge.role == "overcurrent"]
        found += [FirstDevice(edge, edge.owner, wires) for edge in devices]
        ends = len(edges) == 1 or any(edge.role in NO_WAY for edge in edges)
        if wires and not devices and ends:
            found.append(FirstDevice(None, graph.component_of[at], wires))
    return tuple(found)


def opens_neutral(graph: TerminalGraph, edge: Edge) -> bool | None:
    """Say whether an AC device opens the neutral too; None when it is not stated."""
    if graph.diagram.components[edge.owner].kind == "ac_panel":
        poles = edge.device.get("poles")
        return None if poles is None else poles == "both"
    opened = edge.device.get("poles_opened")
    return None if opened is None else opened == "L_and_N"


def poles_field(graph: TerminalGraph, edge: Edge) -> str:
    """Return the field that says which poles an AC device opens."""
    panel = graph.diagram.components[edge.owner].kind == "ac_panel"
    return f"{edge.item}.{'poles' if panel else 'poles_opened'}"


def live_devices(graph: TerminalGraph) -> list[Edge]:
    """Return the AC devices, each once, by its live pole."""
    return [edge for edge in graph.edges if edge.role == "overcurrent"
            and graph.names[edge.b].endswith("L") and graph.names[edge.a].endswith("L")]


def joined_way(graph: TerminalGraph, one: int, other: int) -> tuple[Edge, ...] | None:
    """Return a way that can stand closed between two live terminals, None when there is none.

    Positions of one switch exclude each other, and so do breakers that are interlocked.
    """
    return next(_ways(graph, one, other, (), frozenset({one})), None)


def _ways(
    graph: TerminalGraph, node: int, goal: int, way: tuple[Edge, ...], seen: frozenset[int]
) -> Iterator[tuple[Edge, ...]]:
    if node == goal:
        yield way
        return
    for number in graph.edges_at[node]:
        edge = graph.edges[number]
        after = edge.other(node)
        if after not in seen and passes_ac(edge, node) and _may_close(edge, way):
            yield from _ways(graph, after, goal, (*way, edge), seen | {after})


def _may_close(edge: Edge, way: Iterable[Edge]) -> bool:
    """Say whether an edge can be closed while all edges of a way are."""
    for other in way:
        if edge.handle is not None and edge.handle == other.handle and not (
                edge.closed_in & other.closed_in):
            return False
        if other.owner in _locked(edge) or edge.owner in _locked(other):
            return False
    return True


def _locked(edge: Edge) -> tuple[str, ...]:
    partner = edge.device.get("interlock_with")
    return (str(partner),) if partner else ()


def protected_by(graph: TerminalGraph, node: int) -> Mapping[int, tuple[Edge, ...]]:
    """Return for each live terminal that a source feeds the devices on the nearest way to it."""
    came = came_from(graph, [node], passes_ac)
    return {at: tuple(edge for edge in way_back(came, at) if edge.role == "overcurrent")
            for at in came}
