"""Two reaches: what is live from any source, and what a battery can drive a fault through.

Live reach goes from any active source forward through contacts, diodes and converters. Stiff
reach goes from a battery through contacts and forward diodes only. Neither passes a load or a
battery.
"""

from __future__ import annotations

from collections.abc import Callable, Container, Hashable, Iterable, Mapping
from dataclasses import dataclass

from model.analysis.systems import systems_of
from model.diagram import Diagram, Mode
from model.graph import Edge, TerminalGraph
from model.kinds.record import EnergySource
from model.kinds.storage import nominal_v

Positions = Mapping[str, str]
Passes = Callable[[Edge, int], bool]
Onward = list[list[int]]


@dataclass(frozen=True, slots=True)
class LiveState:
    """What is live, and from which sources, by id. `unexpected` holds ids of components,
    conductors and terminals that are live past an open switch of their own bank."""

    terminals: Mapping[str, frozenset[str]]
    components: Mapping[str, frozenset[str]]
    conductors: Mapping[str, frozenset[str]]
    unexpected: frozenset[str]


def reach(graph: TerminalGraph, start: Iterable[int], passes: Passes) -> set[int]:
    """Return the nodes reached from the start nodes over edges that pass."""
    seen = set(start)
    stack = list(seen)
    while stack:
        node = stack.pop()
        for after, edge in graph.neighbours[node]:
            if after not in seen and passes(edge, node):
                seen.add(after)
                stack.append(after)
    return seen


def onward(graph: TerminalGraph, name: Hashable, passes: Passes) -> Onward:
    """Return for each terminal those one comes to from it over edges that pass.

    Worked out once for a name, which must tell tests apart and all that a test reads beside the
    edge and its part: for questions that are asked from many terminals.
    """
    return graph.by_terminal(("onward", name), lambda node: [
        after for after, edge in graph.neighbours[node] if passes(edge, node)])


def onward_in(
    graph: TerminalGraph, positions: Positions, name: Hashable, passes: Passes
) -> Onward:
    """Return the same over edges that pass and are closed with the switches in these positions.

    Asked of many positions: the test is compiled once, only what a handle works is looked at anew.
    """
    always = onward(graph, (name, "always"), lambda edge, node: (
        edge.handle is None and passes(edge, node)))
    worked = graph.by_terminal(("worked", name), lambda node: [
        (after, edge.index) for after, edge in graph.neighbours[node]
        if edge.handle is not None and passes(edge, node)])

    def ways(node: int) -> list[int]:
        if not worked[node]:
            return always[node]
        return [*always[node], *(after for after, number in worked[node] if graph.is_closed(
            graph.edges[number], positions))]

    return graph.by_terminal(("onward", name, standing(positions)), ways)


def rewritten(graph: TerminalGraph, ways: Onward, nodes: Iterable[int], passes: Passes) -> Onward:
    """Return ways by another test from some of their terminals."""
    found = list(ways)
    for node in nodes:
        found[node] = [after for after, edge in graph.neighbours[node] if passes(edge, node)]
    return found


def stiff_ways(graph: TerminalGraph, positions: Positions) -> Onward:
    """Return the ways of stiff reach with the switches in these positions."""
    return onward_in(graph, positions, "stiff", always_closed)


def stiff_reach(
    graph: TerminalGraph, start: Iterable[int], positions: Positions
) -> frozenset[int]:
    """Return the nodes of stiff reach from some with the switches in these positions."""
    starts = tuple(start)
    return graph.of_wiring(("stiff reach", starts, standing(positions)), lambda: frozenset(
        follow(stiff_ways(graph, positions), starts)))


def ever_joined(graph: TerminalGraph, start: Iterable[int]) -> frozenset[int]:
    """Return the nodes of stiff reach from some in some position of every switch."""
    starts = tuple(start)
    return graph.of_wiring(("ever joined", starts), lambda: frozenset(
        follow(onward(graph, "ever", always_closed), starts)))


def standing(positions: Positions) -> frozenset[tuple[str, str]]:
    """Return positions as part of a name."""
    return frozenset(positions.items())


def follow(ways: Onward, start: Iterable[int], without: Iterable[int] = ()) -> set[int]:
    """Return the nodes reached from the start nodes, none of those left out."""
    stack = list(set(start).difference(without))
    seen = {*stack, *without}
    while stack:
        for after in ways[stack.pop()]:
            if after not in seen:
                seen.add(after)
                stack.append(after)
    return seen.difference(without)


def leads_to(
    ways: Onward, start: Iterable[int], goals: Container[int], without: Iterable[int] = ()
) -> bool:
    """Say whether any goal is reached from the start nodes, none of those left out passed."""
    stack = list(set(start).difference(without))
    seen = {*stack, *without}
    while stack:
        node = stack.pop()
        if node in goals:
            return True
        for after in ways[node]:
            if after not in seen:
                seen.add(after)
                stack.append(after)
    return False


def came_from(
    graph: TerminalGraph, start: Iterable[int], passes: Passes
) -> dict[int, Edge | None]:
    """Return the nodes reached, the nearest first, each with the edge by which it is nearest."""
    came: dict[int, Edge | None] = dict.fromkeys(start)
    order = list(came)
    for node in order:
        for after, edge in graph.neighbours[node]:
            if after not in came and passes(edge, node):
                came[after] = edge
                order.append(after)
    return came


def way_back(came: Mapping[int, Edge | None], node: int) -> tuple[Edge, ...]:
    """Return the edges from the start to a node that was reached, in order."""
    way: list[Edge] = []
    while (edge := came[node]) is not None:
        way.append(edge)
        node = edge.other(node)
    return tuple(reversed(way))


def live_passes(graph: TerminalGraph, positions: Positions) -> Passes:
    """Return the test of live reach: closed, forward, and neither load nor battery."""
    def passes(edge: Edge, node: int) -> bool:
        if edge.role in ("load", "source") or (edge.one_way and edge.a != node):
            return False
        return edge.handle is None or graph.is_closed(edge, positions)
    return passes


def stiff_passes(graph: TerminalGraph, positions: Positions) -> Passes:
    """Return the test of stiff reach: live reach without converters."""
    def passes(edge: Edge, node: int) -> bool:
        if edge.role in ("load", "source", "converter") or (edge.one_way and edge.a != node):
            return False
        return edge.handle is None or graph.is_closed(edge, positions)
    return passes


def always_closed(edge: Edge, node: int) -> bool:
    """Pass stiff edges in every position of every switch: what may be joined in some state."""
    if edge.role in ("load", "source", "converter"):
        return False
    return not (edge.one_way and edge.a != node)


def closed_towards(edge: Edge, node: int) -> bool:
    """Pass the same edges against the current: those by which something comes to a node."""
    return edge.role not in ("load", "source", "converter") and not (
        edge.one_way and edge.b != node)


def source_nodes(graph: TerminalGraph, component: str) -> list[int]:
    """Return the terminals from which a source feeds the network.

    A battery in an insulated system feeds from both; its taps feed too. What is stored feeds
    nothing.
    """
    source = graph.kinds[component].source
    if source is None or graph.diagram.components[component].stored is True:
        return []
    names = list(source.terminals)
    nodes = [graph.number[f"{component}.{name}"] for name in names
             if f"{component}.{name}" in graph.number]
    if source.kind == "battery":
        nodes += [n for n in graph.nodes_of(component) if ".tap_" in graph.names[n]]
        if _is_insulated(graph.diagram, component):
            nodes += [n for n in graph.nodes_of(component) if graph.names[n].endswith(".-")]
    return nodes


def _is_insulated(diagram: Diagram, component: str) -> bool:
    """Say whether a battery can only be of an insulated system: the one of its own volts."""
    systems = systems_of(diagram, [nominal_v(diagram.components[component].parameters)])
    return bool(systems) and all(system.earthing == "insulated" for system in systems)


def active_sources(
    diagram: Diagram, mode: Mode | None = None, switched: Mapping[str, bool] | None = None
) -> list[str]:
    """Return the sources that give: batteries always, the others by mode, all by `switched`.

    An engine that is switched stands for all that it drives. Without a mode the sun shines, the
    wind blows, engines run and shore power is connected.
    """
    from model.kinds import kind_of

    active = []
    for component in diagram.components.values():
        source = kind_of(component).source
        if source is None or (mode is not None and component.id in mode.absent):
            continue
        gives = mode is None or _gives(component.id, source, diagram, mode)
        by_engine = (switched or {}).get(component.parameters.get("driven_by", ""), gives)
        if (switched or {}).get(component.id, by_engine) and component.stored is not True:
            active.append(component.id)
    return active


def _gives(item: str, source: EnergySource, diagram: Diagram, mode: Mode) -> bool:
    if source.kind == "battery":
        return True
    if source.kind == "sun":
        return mode.sun_fraction != 0
    if source.kind == "wind":
        return mode.wind_mps != 0
    if source.kind == "shore":
        return item in mode.shore_connected
    if source.kind == "generator":
        return item in mode.generators_running
    return diagram.components[item].parameters.get("driven_by") in mode.engines_running


def live_components(
    graph: TerminalGraph, sources: Iterable[str], positions: Positions
) -> frozenset[str]:
    """Return the components that some of the sources make live."""
    passes = live_passes(graph, positions)
    starts = [node for source in sources for node in source_nodes(graph, source)]
    return frozenset(graph.component_of[node] for node in reach(graph, starts, passes))


def live_state(
    graph: TerminalGraph, sources: Iterable[str], positions: Positions,
    open_switches: Callable[[Positions], set[str]] | None = None,
) -> LiveState:
    """Return what each of the sources makes live with the switches in these positions."""
    passes = live_passes(graph, positions)
    found: dict[int, set[str]] = {}
    for source in sources:
        for node in reach(graph, source_nodes(graph, source), passes):
            found.setdefault(node, set()).add(source)
    terminals = {
        name: frozenset(found.get(number, ())) for number, name in enumerate(graph.names)
    }
    unexpected = open_switches(positions) if open_switches is not None else set()
    components = {
        item: frozenset().union(*(found.get(node, ()) for node in graph.nodes_of(item)))
        for item in graph.diagram.components
    }
    conductors = {
        item: frozenset().union(*(
            set(found.get(edge.a, ())) | set(found.get(edge.b, ()))
            for edge in graph.edges_of.get(item, ())))
        for item in graph.diagram.conductors
    }
    return LiveState(terminals, components, conductors, frozenset(
        item for item in unexpected
        if terminals.get(item) or components.get(item) or conductors.get(item)
    ))
