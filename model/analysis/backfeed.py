"""Back-feed: what stays live although the switch between it and its own bank is open."""

from __future__ import annotations

from collections.abc import Mapping

from model.analysis.reach import live_passes, reach, source_nodes
from model.graph import TerminalGraph


def backfed(
    graph: TerminalGraph, sources: list[str], positions: Mapping[str, str]
) -> frozenset[str]:
    """Return the ids of terminals, components and conductors that are live unexpectedly.

    With all switches as usual a battery reached them, through converters too; now, with some
    switch open, none does, yet a source still makes them live. A source's own lead up to the
    first branch is not counted.
    """
    opened = {h: p for h, p in positions.items() if h in graph.normal and p != graph.normal[h]}
    if not opened:
        return frozenset()
    batteries = [s for s in sources if graph.diagram.components[s].kind == "battery_bank"]
    starts = [n for battery in batteries for n in source_nodes(graph, battery)]
    lost = reach(graph, starts, live_passes(graph, {})) - reach(
        graph, starts, live_passes(graph, positions))
    passes = live_passes(graph, positions)
    alive = {n for s in sources for n in reach(graph, source_nodes(graph, s), passes)}
    nodes = lost & alive
    nodes -= _own_leads(graph, sources, alive - nodes)
    names = {graph.names[n] for n in nodes}
    parts = {graph.component_of[n] for n in nodes}
    wires = {e.owner for e in graph.edges
             if e.role == "conductor" and e.a in nodes and e.b in nodes}
    return frozenset(names | parts | wires)


def _own_leads(graph: TerminalGraph, sources: list[str], expected: set[int]) -> set[int]:
    """Return the nodes of each source's own output as far as the first branch.

    A converter counts as a source when what feeds it is live as expected.
    """
    starts = [n for s in sources if graph.diagram.components[s].kind != "battery_bank"
              for n in source_nodes(graph, s)]
    starts += [e.b for e in graph.edges if e.role == "converter" and e.a in expected]
    found: set[int] = set()
    for node in starts:
        while node not in found and len(_ways(graph, node)) <= 2:
            found.add(node)
            after = [graph.edges[i].other(node) for i in _ways(graph, node)]
            onward = [n for n in after if n not in found]
            if not onward:
                break
            node = onward[0]
    return found


def _ways(graph: TerminalGraph, node: int) -> list[int]:
    return [i for i in graph.edges_at[node]
            if graph.edges[i].role in ("conductor", "join", "contact", "overcurrent")]
