"""Parts that nothing feeds in any position of any switch, and where the feed is missing.

All contacts count as closed: a float switch will close, a relay can. What is in store counts as
what it gives when it is aboard. The current may come through another load that is in series.
Terminals that nothing reaches hang together in islands: each has one cause, and what stands nearest
to the connection that is missing is its head. That is what ends open; of several, and of bars, the
one from which the most would be fed.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from model.analysis.negatives import is_drawn
from model.analysis.reach import Onward, follow, onward, reach
from model.analysis.voltage_drop import PANELS
from model.diagram import Component
from model.graph import Edge, TerminalGraph
from model.kinds.record import Port

LIVE_POLES = ("+", "L", "L2")
TAKING_ROLES = ("distribution", "converter", "load")
TAKING = ("converter", "load", "storage")
LASTING = ("battery", "shore", "generator")
DISTRIBUTING = (*PANELS, "ac_panel")
CONVERTING = ("solar_controller", "wind_controller", "shore_charger", "dc_dc_charger",
              "dc_dc_converter")
IN_LINE = ("switch", "protection", "measuring")
# Of two heads from which as much is fed: one that ends open, a diode, a bar, a converter.
OPEN_END, DIODE, BAR, CONVERTER = range(4)


@dataclass(frozen=True, slots=True)
class Unfed:
    """Parts that nothing feeds for one cause, and the head from which on nothing does.

    `nodes` are the terminals of the island. `backwards` says that something stands beyond the
    head, which passes current the other way only.
    """

    head: str
    parts: tuple[str, ...]
    nodes: frozenset[int]
    backwards: bool


@dataclass(frozen=True, slots=True)
class _Head:
    """A candidate: the terminal at which the feed is missing, and how likely it is meant."""

    item: str
    node: int
    rank: int


def unfed(graph: TerminalGraph) -> tuple[Unfed, ...]:
    """Return the parts to whose inlets conductors lead and which nothing feeds, by their cause.

    None while no source is connected to anything: then the drawing has hardly begun.
    """
    return graph.of_wiring("unfed", lambda: tuple(_islands(graph)) if any(
        is_drawn(graph, node) for node in _giving(graph)) else ())


@dataclass(frozen=True, slots=True)
class Batteryless:
    """Panels and loads that sun, wind or an engine feeds and nothing that lasts, with what does."""

    parts: tuple[str, ...]
    sources: tuple[str, ...]


def without_battery(graph: TerminalGraph) -> Batteryless | None:
    """Return what no battery, shore or generator feeds in any position, but another source does.

    None while no battery is connected to anything. A diversion load is meant to be fed so.
    """
    return graph.of_wiring("without battery", lambda: _without_battery(graph) if any(
        is_drawn(graph, node) for node in _giving(graph, ("battery",))) else None)


def _without_battery(graph: TerminalGraph) -> Batteryless | None:
    passing = fed_in_some_position(graph) - follow(_in_some_position(graph), _giving(
        graph, LASTING))
    reached = [graph.diagram.components[item]
               for item in dict.fromkeys(graph.component_of[node] for node in sorted(passing))]
    parts = tuple(part.id for part in reached
                  if graph.kinds[part.id].role in ("distribution", "load")
                  and part.kind != "dump_load" and part.stored is not True
                  and any(not passing.isdisjoint(inlet) for inlet in inlets(graph, part)))
    sources = tuple(part.id for part in reached if graph.kinds[part.id].source is not None)
    return Batteryless(parts, sources) if parts else None


def idle_sources(graph: TerminalGraph) -> tuple[str, ...]:
    """Return the sources but batteries, the chargers and the converters that reach nothing that
    takes current, in any position of any switch.
    """
    return graph.of_wiring("idle sources", lambda: tuple(_idle_sources(graph)))


def _idle_sources(graph: TerminalGraph) -> Iterator[str]:
    ways = _in_some_position(graph)
    for part in graph.diagram.components.values():
        starts = [] if part.stored is True else _gives_at(graph, part)
        met = {graph.component_of[node] for node in follow(ways, starts)} - {part.id}
        if starts and not any(graph.kinds[item].role in TAKING for item in met):
            yield part.id


def _gives_at(graph: TerminalGraph, part: Component) -> list[int]:
    """Return the terminals by which a source gives that is no battery, or a converter of DC."""
    source = graph.kinds[part.id].source
    if part.kind in CONVERTING:
        return sorted({edge.b for edge in graph.edges_of.get(part.id, ())
                       if edge.role == "converter"})
    if source is None or source.kind == "battery":
        return []
    return [graph.number[name] for terminal in source.terminals
            if (name := f"{part.id}.{terminal}") in graph.number]


def is_mostly_fed(graph: TerminalGraph) -> bool:
    """Say whether most loads are fed: then the drawing is no longer half drawn."""
    fed = fed_in_some_position(graph)
    loads = [not fed.isdisjoint(node for inlet in inlets(graph, part) for node in inlet)
             for part in graph.diagram.components.values() if graph.kinds[part.id].role == "load"]
    return loads.count(True) > loads.count(False)


def fed_in_some_position(graph: TerminalGraph) -> set[int]:
    """Return the terminals to which current comes in some position of the switches."""
    return graph.of_wiring("fed in some position", lambda: follow(
        _in_some_position(graph), _giving(graph)))


def _in_some_position(graph: TerminalGraph) -> Onward:
    return onward(graph, "in some position", lambda edge, node: (
        edge.role != "source" and not (
            (edge.one_way or edge.role == "load") and edge.a != node)))


def inlets(graph: TerminalGraph, part: Component) -> Iterator[tuple[int, ...]]:
    """Yield the live terminals of each port by which a part is fed."""
    if graph.kinds[part.id].role not in TAKING_ROLES:
        return
    taking = {graph.names[edge.a].partition(".")[2] for edge in graph.edges_of.get(part.id, ())
              if edge.role in ("load", "converter", "diode")}
    for port in graph.ports[part.id]:
        live = _live_terminals(port)
        if taking & set(live) or (part.kind in DISTRIBUTING and port.id == "in"):
            yield tuple(graph.number[f"{part.id}.{name}"] for name in live)


def _live_terminals(port: Port) -> list[str]:
    return [terminal for pole, terminal in port.poles.items() if pole in LIVE_POLES]


def _giving(graph: TerminalGraph, kinds: tuple[str, ...] = ()) -> list[int]:
    """Return the terminals of all batteries and those by which other sources give; of some kinds
    of source alone if any are named.
    """
    found = []
    for item, kind in graph.kinds.items():
        if kind.source is None or (kinds and kind.source.kind not in kinds):
            continue
        if kind.source.kind == "battery":
            found += graph.nodes_of(item)
        else:
            found += [graph.number[name] for terminal in kind.source.terminals
                      if (name := f"{item}.{terminal}") in graph.number]
    return found


def _islands(graph: TerminalGraph) -> Iterator[Unfed]:
    fed = fed_in_some_position(graph)
    dead = {part.id: starts for part in graph.diagram.components.values()
            if part.stored is not True and (starts := _dead_inlets(graph, part, fed))}
    seen: set[int] = set()
    for starts in dead.values():
        for start in starts:
            if start not in seen:
                island = reach(graph, [start], lambda edge, node: (
                    edge.role not in ("load", "source") and edge.other(node) not in fed))
                seen |= island
                parts = [item for item, own in dead.items() if not island.isdisjoint(own)]
                yield _island(graph, frozenset(island), _sorted(graph, parts), fed)


def _dead_inlets(graph: TerminalGraph, part: Component, fed: set[int]) -> list[int]:
    """Return the terminals of a part's inlets that are drawn and not fed."""
    if all(edge.a in fed for edge in graph.edges_of.get(part.id, ())):
        return []  # what is inside begins at its inlets: spares to look at them one by one
    return [node for inlet in inlets(graph, part) if fed.isdisjoint(inlet)
            for node in inlet if is_drawn(graph, node)]


def _sorted(graph: TerminalGraph, parts: Iterable[str]) -> tuple[str, ...]:
    """Return panels first, then converters, then loads."""
    return tuple(sorted(parts, key=lambda item: TAKING_ROLES.index(graph.kinds[item].role)))


def _island(
    graph: TerminalGraph, nodes: frozenset[int], parts: tuple[str, ...], fed: set[int]
) -> Unfed:
    heads = list(_heads(graph, nodes, fed))
    open_ends = [head for head in heads if head.rank == OPEN_END]
    if len({head.item for head in open_ends}) == 1:  # whichever way round it is drawn
        heads = open_ends
    if not heads:
        return Unfed(parts[0], parts, nodes, backwards=False)
    onwards = onward(graph, "downstream", _is_downstream)
    best = max(heads, key=lambda head: (_served(graph, head, parts, onwards), -head.rank))
    return Unfed(best.item, parts, nodes, backwards=best.rank in (DIODE, CONVERTER))


def _is_downstream(edge: Edge, node: int) -> bool:
    """Pass what goes away from a feed: in-line parts from their first terminal to the other."""
    if edge.role in ("load", "source"):
        return False
    return edge.role in ("conductor", "join") or edge.a == node


def _served(
    graph: TerminalGraph, head: _Head, parts: Iterable[str], onwards: Onward
) -> int:
    """Return how many of the parts a head would feed."""
    owners = {graph.component_of[node] for node in follow(onwards, [head.node])}
    return sum(item in owners for item in parts)


def _heads(graph: TerminalGraph, nodes: frozenset[int], fed: set[int]) -> Iterator[_Head]:
    """Yield where the feed may be missing: open ends, what passes the other way, bars."""
    for node in sorted(nodes):
        item = graph.component_of[node]
        part, role = graph.diagram.components[item], graph.kinds[item].role
        if part.kind == "untraced_end" or (
                not is_drawn(graph, node) and _leads_in(graph, node, nodes)):
            yield _Head(item, node, OPEN_END)
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.one_way and edge.a == node and edge.b in fed:
                yield _Head(item, node, DIODE if edge.role == "diode" else CONVERTER)
        if role == "distribution" and part.kind not in DISTRIBUTING:
            yield _Head(item, node, BAR)


def _leads_in(graph: TerminalGraph, node: int, nodes: frozenset[int]) -> bool:
    """Say whether a terminal at which nothing is drawn is where a feed would come in: the inlet of
    a panel or converter that has no other, or the free end of what stands in line.
    """
    item = graph.component_of[node]
    own = list(inlets(graph, graph.diagram.components[item]))
    if any(node in inlet for inlet in own):
        return graph.kinds[item].role != "load" and not any(
            is_drawn(graph, other) for inlet in own for other in inlet if other in nodes)
    drawn = [other for other in graph.nodes_of(item) if other in nodes and is_drawn(graph, other)]
    return graph.kinds[item].role in IN_LINE and len(drawn) == 1
