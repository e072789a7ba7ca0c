"""What a way of a panel feeds, and the label that says so."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from model.analysis.banks import loads_at
from model.analysis.reach import follow, onward, reach, rewritten, source_nodes
from model.diagram import Component, Diagram
from model.graph import Edge, TerminalGraph
from model.kinds import kind_of
from model.kinds.distribution import panel_ways
from rules.ordering import in_order

FEW = 3


def loads_of_ways(graph: TerminalGraph, panel: Component) -> Mapping[str, tuple[str, ...]]:
    """Return by way of a panel the loads that it feeds, past the panel itself, those behind a
    converter too; where something else feeds too the way ends.
    """
    ways = panel_ways(panel.parameters, panel.kind)
    otherwise = _fed_past(graph, panel.id)
    return {str(way["id"]): tuple(_fed(graph, panel.id, [
        graph.number[name] for pole in ("+", "L")
        if (name := f"{panel.id}.{way['id']}{pole}") in graph.number], otherwise))
        for way in ways}


def _fed(
    graph: TerminalGraph, panel: str, starts: list[int], otherwise: set[int]
) -> list[str]:
    """Return the loads that a way feeds; where something else feeds too the way ends."""
    found = reach(graph, starts, lambda edge, node: (
        edge.owner != panel and edge.role != "load" and node not in otherwise))
    return in_order(set(loads_at(graph, found)))


def _fed_past(graph: TerminalGraph, panel: str) -> set[int]:
    """Return what batteries and sources reach without a panel, each load an end of its way."""
    def goes_on(_: Edge, node: int) -> bool:
        return graph.kinds[graph.component_of[node]].role != "load"

    sources = [node for part in graph.diagram.components for node in source_nodes(graph, part)]
    ways = rewritten(graph, onward(graph, "up to loads", goes_on), graph.nodes_of(panel),
                     lambda edge, node: edge.owner != panel and goes_on(edge, node))
    return follow(ways, sources)


def label_of(diagram: Diagram, loads: Sequence[str]) -> str:
    """Return what is written beside a switch of some loads: their names, of many the first."""
    parts = [diagram.components[item] for item in loads]
    words = list(dict.fromkeys(part.name or kind_of(part).title for part in parts))
    if len(words) > FEW:
        words = [*words[:FEW - 1], f"{len(words) - FEW + 1} more"]
    return " and ".join(part for part in ("; ".join(words[:-1]), words[-1]) if part)
