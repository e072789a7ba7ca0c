"""The switches of single circuits: closed when one asks what can feed a load, opened one by one
when one asks which of them makes it dead.

Switches of banks, links and relays that volts work are none of them: they stand as usual.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from model.analysis.banks import handle_of, is_main_switch, off_position
from model.analysis.coils import dead_contacts
from model.analysis.fed_by import battery_posts, fed_by, fed_loads, supplied_loads, way_from_battery
from model.analysis.starter import is_emergency_link
from model.graph import Edge, TerminalGraph

BETWEEN_BANKS = ("battery_switch", "selector_switch", "voltage_sensing_relay")


def in_use(graph: TerminalGraph) -> Mapping[str, str]:
    """Return the positions in which every contact and breaker of a single circuit is closed."""
    return graph.of_wiring("in_use", lambda: {
        str(edge.handle): _closing(graph, edge) for edge in reversed(graph.edges)
        if edge.role in ("contact", "overcurrent") and edge.handle is not None
        and not _between_banks(graph, edge)})


def hand_switches(graph: TerminalGraph) -> Mapping[str, str]:
    """Return the switches of single circuits that a hand works: by handle, the off position."""
    return graph.of_wiring("hand_switches", lambda: {
        edge.handle: off_position(graph, edge) for edge in graph.edges
        if edge.role == "contact" and edge.handle is not None
        and not _between_banks(graph, edge) and handle_of(graph, edge).manual})


def feeding_in_use(
    graph: TerminalGraph, nodes: Iterable[int], opened: Mapping[str, str] | None = None
) -> frozenset[str]:
    """Return the batteries that feed terminals with all circuits in use but what is opened, and
    what a switch that is opened or left dead works through a coil.
    """
    return fed_by(graph, nodes, _working(graph, {**in_use(graph), **opened}) if opened else (
        graph.of_wiring("working in use", lambda: _working(graph, in_use(graph)))))


def _working(graph: TerminalGraph, positions: Mapping[str, str]) -> Mapping[str, str]:
    """Return positions with open what in them no coil holds closed."""
    dead = dead_contacts(graph, lambda edge: graph.is_closed(edge, positions))
    return {**positions, **{
        str(edge.handle): off_position(graph, edge) for item in dead
        for edge in graph.edges_of[item] if edge.role == "contact"}}


def loads_in_use(graph: TerminalGraph, batteries: Iterable[str]) -> frozenset[str]:
    """Return the DC loads that batteries feed with all circuits in use."""
    return frozenset(item for item in fed_loads(graph, batteries, in_use(graph))
                     if f"{item}.+" in graph.number)


def supplied_in_use(
    graph: TerminalGraph, batteries: Iterable[str]
) -> Mapping[str, tuple[str, ...]]:
    """Return the DC loads that batteries really supply with all circuits in use, each with the
    converters on the way."""
    return {item: passed for item, passed in supplied_loads(
        graph, batteries, in_use(graph)).items() if f"{item}.+" in graph.number}


def cut_off_by(graph: TerminalGraph, part: str) -> frozenset[str]:
    """Return the DC loads that no battery feeds once a switch is turned off, with all circuits in
    use before.
    """
    off = {str(edge.handle): off_position(graph, edge) for edge in graph.edges_of.get(part, ())
           if edge.role == "contact"}
    batteries = [graph.component_of[post] for post in battery_posts(graph)]
    return graph.of_wiring(("cut off by", part), lambda: loads_in_use(
        graph, batteries) - fed_loads(graph, batteries, {**in_use(graph), **off}))


def cutting(graph: TerminalGraph, node: int) -> tuple[Edge, ...]:
    """Return the contacts and devices that each by itself leave a terminal without feed, with all
    circuits in use; nothing where nothing feeds it.

    Whatever cuts it stands in any way there is, so one way is enough to look along.
    """
    return tuple(edge for edge in way_from_battery(graph, node, in_use(graph))
                 if edge.role in ("contact", "overcurrent") and not feeding_in_use(
                     graph, [node], {str(edge.handle): off_position(graph, edge)}))


def killers(graph: TerminalGraph, node: int) -> frozenset[str]:
    """Return the hand switches of circuits that each by itself leave a terminal without feed,
    itself or through the coil of a relay; nothing where nothing feeds it.
    """
    return frozenset(
        handle for handle, off in hand_switches(graph).items()
        if not feeding_in_use(graph, [node], {handle: off})) if feeding_in_use(
            graph, [node]) else frozenset()


def _between_banks(graph: TerminalGraph, edge: Edge) -> bool:
    return is_main_switch(graph, edge.owner) or is_emergency_link(graph, edge.owner) or (
        graph.diagram.components[edge.owner].kind in BETWEEN_BANKS)


def _closing(graph: TerminalGraph, edge: Edge) -> str:
    """Return the position an edge's handle usually stands in if that closes it, else one that
    does.
    """
    normal = graph.normal[str(edge.handle)]
    return normal if normal in edge.closed_in else min(edge.closed_in)
