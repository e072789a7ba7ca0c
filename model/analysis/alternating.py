"""The AC side: its sources and consumers, the devices between them, and what joins two sources.

Live, neutral and earth are separate terminals of the network, so that each is followed by itself.
A change-over stands in one position at a time, and of two breakers locked against each other one
is open: what is joined is asked of each such state by itself.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from model.analysis.reach import Passes, came_from, reach, way_back
from model.diagram import Component
from model.graph import Edge, TerminalGraph

INLETS = ("shore_inlet",)
OWN_SOURCES = ("generating_set", "inverter", "inverter_charger", "isolation_transformer")
CONSUMERS = ("ac_load", "ac_socket", "shore_charger", "inverter_charger")
_OUT = {"inverter_charger": "out", "isolation_transformer": "out"}
_IN = {"inverter_charger": "in", "isolation_transformer": "in"}
NO_WAY = frozenset({"load", "source", "converter"})
CHANGE_OVER = "ac_transfer_switch"
BREAKS_FIRST = ("rotary", "interlocked")  # by their make; common practice, no source
MOST_CHOICES = 10  # of more change-overs and locks than a boat has, the rest count as closed

State = Mapping[str, str]


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


def _none(_edge: Edge) -> bool:
    return False


def passes_in(state: State, without: Callable[[Edge], bool] = _none) -> Passes:
    """Return the test of the ways that are closed in a state; a breaker it leaves out is closed.

    `without` says which edges are not to be used.
    """
    def passes(edge: Edge, _node: int) -> bool:
        position = None if edge.handle is None else state.get(edge.handle)
        return edge.role not in NO_WAY and (
            position is None or position in edge.closed_in) and not without(edge)
    return passes


def ac_states(
    graph: TerminalGraph, overlapping: frozenset[str] = frozenset()
) -> tuple[State, ...]:
    """Return the states of the AC side: each position of each change-over, each way of a lock.

    The change-overs that overlap make one position before they break the other: both are closed.
    """
    choices = _choices(graph, overlapping)[:MOST_CHOICES]
    return tuple({handle: position for chosen in state for handle, position in chosen.items()}
                 for state in itertools.product(*choices))


def _choices(graph: TerminalGraph, overlapping: frozenset[str]) -> list[tuple[State, State]]:
    turned = [({part.id: "1"}, {part.id: "2"}) for part in graph.diagram.components.values()
              if part.kind == CHANGE_OVER and part.id not in overlapping]
    locks = {frozenset((edge.handle, other)) for edge in live_devices(graph)
             for other in _locked_with(graph, edge) if edge.handle}
    pairs = sorted(sorted(lock) for lock in locks if len(lock) == 2)
    return [*turned, *(({one: "off"}, {other: "off"}) for one, other in pairs)]


def _locked_with(graph: TerminalGraph, edge: Edge) -> Iterable[str]:
    partner = edge.device.get("interlock_with")
    return {other.handle for other in graph.edges_of.get(str(partner), ())
            if other.handle is not None}


def change_overs(graph: TerminalGraph, breaks_first: bool | None) -> frozenset[str]:
    """Return the change-overs that break before they make, make first, or of which it is unsaid."""
    return frozenset(part.id for part in graph.diagram.components.values()
                     if part.kind == CHANGE_OVER and _breaks_first(part) is breaks_first)


def _breaks_first(part: Component) -> bool | None:
    stated: bool | None = part.parameters.get("break_before_make")
    by_make = True if part.parameters.get("type") in BREAKS_FIRST else None
    return by_make if stated is None else stated


def fed_from(graph: TerminalGraph, node: int) -> frozenset[int]:
    """Return the terminals that a terminal is joined to in some state, all breakers closed."""
    return graph.once(f"ac fed from {node}", lambda: frozenset().union(
        *(reach(graph, [node], passes_in(state)) for state in ac_states(graph))))


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


def joined_way(
    graph: TerminalGraph, one: int, other: int, overlapping: frozenset[str] = frozenset(),
    without: Callable[[Edge], bool] = _none,
) -> tuple[Edge, ...] | None:
    """Return the shortest way that can stand closed between two terminals, None if none can.

    `without` says which edges are not to be used.
    """
    for state in ac_states(graph, overlapping):
        came = came_from(graph, [one], passes_in(state, without))
        if other in came:
            return way_back(came, other)
    return None


def joined_while_turned(
    graph: TerminalGraph, one: int, other: int
) -> tuple[bool, tuple[str, ...]]:
    """Return the change-overs that join two terminals for the moment of turning, and if surely.

    Those that make before they break surely do; those of which it is unsaid may.
    """
    first, unsaid = change_overs(graph, False), change_overs(graph, None)
    for overlapping in (first, first | unsaid):
        way = joined_way(graph, one, other, overlapping) if overlapping else None
        if way is not None:
            sure = overlapping == first
            asked = first if sure else unsaid
            return sure, tuple(dict.fromkeys(e.owner for e in way if e.owner in asked))
    return False, ()


def neutral_way(
    graph: TerminalGraph, one: int, other: int
) -> tuple[bool, tuple[str, ...]]:
    """Say whether two neutrals are certainly joined in some state, and what else would tell.

    A change-over of which nobody said whether it switches the neutral may leave it joined.
    """
    def unsaid(edge: Edge) -> bool:
        part = graph.diagram.components.get(edge.owner)
        return (part is not None and part.kind == CHANGE_OVER
                and "switches_neutral" not in part.parameters)

    if joined_way(graph, one, other, without=unsaid) is not None:
        return True, ()
    way = joined_way(graph, one, other) or ()
    return False, tuple(dict.fromkeys(
        f"{edge.owner}.switches_neutral" for edge in way if unsaid(edge)))


def nearest_devices(graph: TerminalGraph, source: AcSource, node: int) -> tuple[Edge, ...]:
    """Return the last device before a terminal on the nearest way from a source, in each state."""
    found: dict[Edge, None] = {}
    for state in ac_states(graph):
        came = came_from(graph, [source.live], passes_in(state))
        devices = [edge for edge in way_back(came, node) if edge.role == "overcurrent"] if (
            node in came) else []
        found.update(dict.fromkeys(devices[-1:]))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Unguarded:
    """Live terminals that a source reaches past no device that trips at a small leak.

    Of `unsure` the devices `unsaid` would tell: nobody wrote down at what leak they trip.
    """

    bare: frozenset[int]
    unsure: frozenset[int]
    unsaid: tuple[str, ...]


def unguarded(graph: TerminalGraph, source: AcSource, limit_ma: float) -> Unguarded:
    """Return what a source reaches by some way without a device that trips at a leak. [mA]."""
    def trips(edge: Edge) -> bool:
        return 0.0 < edge.device.get("residual_ma", 0.0) <= limit_ma

    def is_unsaid(edge: Edge) -> bool:
        return edge.role == "overcurrent" and "residual_ma" not in edge.device

    bare: set[int] = set()
    maybe: set[int] = set()
    for state in ac_states(graph):
        maybe |= reach(graph, [source.live], passes_in(state, trips))
        bare |= reach(graph, [source.live], passes_in(
            state, lambda edge: trips(edge) or is_unsaid(edge)))
    unsaid = tuple(dict.fromkeys(
        edge.item for node in sorted(maybe) for number in graph.edges_at[node]
        if is_unsaid(edge := graph.edges[number])))
    return Unguarded(frozenset(bare), frozenset(maybe - bare), unsaid)


def load_ends(graph: TerminalGraph, edge: Edge) -> tuple[int, ...]:
    """Return the ends of a device that no source reaches but through it; both ends of a tie.

    Of a device that nothing feeds it is the end that the kind calls its outgoing one.
    """
    fed: set[int] = set()
    for state in ac_states(graph):
        passes = passes_in(state, lambda other: other.index == edge.index)
        fed |= reach(graph, [source.live for source in ac_sources(graph)], passes)
    behind = {(True, False): (edge.b,), (False, True): (edge.a,), (False, False): (edge.b,)}
    return behind.get((edge.a in fed, edge.b in fed), (edge.a, edge.b))
