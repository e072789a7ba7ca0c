"""The reverse question: with this off, what is still live, from which sources, by which way."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from model.analysis.banks import off_position
from model.analysis.reach import LiveState, Positions, active_sources, live_passes, source_nodes
from model.analysis.unswitched import mains_open
from model.errors import UnknownPosition
from model.graph import Edge, TerminalGraph
from model.survey import Survey

GATHERING = frozenset({"distribution"})


@dataclass(frozen=True, slots=True)
class LivePart:
    """A component that is live, and for each source the ids along one shortest way to it.

    `is_unexpected` when a switch between it and its own bank is open, or when no battery but
    such a part makes it live, through a converter say.
    """

    id: str
    ways: Mapping[str, tuple[str, ...]]
    is_unexpected: bool


@dataclass(frozen=True, slots=True)
class LiveLoads:
    """Loads that the same sources make live through the same bar or panel, `at` ("" for none)."""

    at: str
    sources: tuple[str, ...]
    loads: tuple[str, ...]
    is_unexpected: bool


@dataclass(frozen=True, slots=True)
class StillLive:
    """Everything live in a state: parts by id, and the loads among them in groups."""

    state: LiveState
    parts: Mapping[str, LivePart]
    loads: tuple[LiveLoads, ...]


def still_live(
    survey: Survey, positions: Positions, sources: Mapping[str, bool] | None = None,
    mode_id: str | None = None,
) -> StillLive:
    """Return what is live with the handles in these positions, from what and by which way.

    Raise UnknownPosition or NotDrawn for what is not there.
    """
    graph, diagram = survey.graph, survey.diagram
    state = survey.live(positions, sources, mode_id)
    mode = diagram.modes[mode_id] if mode_id is not None else None
    standing = {**(mode.positions if mode else {}), **positions}
    ways: dict[str, dict[str, tuple[str, ...]]] = {}
    for source in active_sources(diagram, mode, sources):
        for item, way in ways_from(graph, source, standing).items():
            ways.setdefault(item, {})[source] = way
    parts = {item: LivePart(item, ways[item], _is_unexpected(graph, item, ways[item], state))
             for item in diagram.components if item in ways}
    return StillLive(state, parts, _grouped(graph, parts))


def off_positions(graph: TerminalGraph, handles: Iterable[str]) -> dict[str, str]:
    """Return the off position of each handle; raise UnknownPosition where there is none."""
    found = {}
    for handle in handles:
        edge = next((e for e in graph.edges if e.handle == handle), None)
        if edge is None:
            raise UnknownPosition(handle, "off", ())
        found[handle] = off_position(graph, edge)
    return found


def _is_unexpected(
    graph: TerminalGraph, item: str, ways: Mapping[str, tuple[str, ...]], state: LiveState
) -> bool:
    if item in state.unexpected:
        return True
    kinds = {graph.diagram.components[source].kind for source in ways}
    return "battery_bank" not in kinds and any(
        not state.unexpected.isdisjoint(way[:-1]) for way in ways.values())


def ways_from(
    graph: TerminalGraph, source: str, positions: Positions
) -> dict[str, tuple[str, ...]]:
    """Return each component that a source makes live with the ids along a shortest way to it."""
    passes = live_passes(graph, positions)
    starts = source_nodes(graph, source)
    came: dict[int, tuple[int, Edge] | None] = dict.fromkeys(starts)
    ways: dict[str, tuple[str, ...]] = {}
    queue = list(came)
    for node in queue:
        part = graph.component_of[node]
        if part not in ways:
            ways[part] = _way(graph, came, node)
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            after = edge.other(node)
            if after not in came and passes(edge, node):
                came[after] = (node, edge)
                queue.append(after)
    return ways


def _way(
    graph: TerminalGraph, came: Mapping[int, tuple[int, Edge] | None], node: int
) -> tuple[str, ...]:
    """Return the ids from the source to a node: parts, conductors, and ways of panels."""
    back = [graph.component_of[node]]
    while (step := came[node]) is not None:
        node, edge = step
        back += [edge.item, graph.component_of[node]]
    listed: list[str] = []
    for item in reversed(back):
        if listed and listed[-1].partition(".")[0] == item.partition(".")[0]:
            # A panel's way says more than the panel it is in, but two ways are two things.
            if "." not in item or item == listed[-1]:
                continue
            if "." not in listed[-1]:
                listed[-1] = item
                continue
        listed.append(item)
    return tuple(listed)


def _grouped(graph: TerminalGraph, parts: Mapping[str, LivePart]) -> tuple[LiveLoads, ...]:
    groups: dict[tuple[str, tuple[str, ...], bool], list[str]] = {}
    for part in parts.values():
        if graph.kinds[part.id].role != "load":
            continue
        sources = tuple(sorted(part.ways))
        key = (_last_bar(graph, part.ways[sources[0]]), sources, part.is_unexpected)
        groups.setdefault(key, []).append(part.id)
    return tuple(LiveLoads(at, sources, tuple(loads), unexpected)
                 for (at, sources, unexpected), loads in groups.items())


def _last_bar(graph: TerminalGraph, way: tuple[str, ...]) -> str:
    """Return the last bar, block or panel on a way."""
    for item in reversed(way[:-1]):
        owner = item.partition(".")[0]
        if owner in graph.kinds and graph.kinds[owner].role in GATHERING:
            return owner
    return ""


def live_with_all_off(survey: Survey) -> StillLive:
    """Return what is live with every main switch off and every source giving, worked out once."""
    return survey.graph.once(
        "live_with_all_off", lambda: still_live(survey, mains_open(survey.graph)))
