"""Runs: conductors in series, one after the other with no branch between.

Two conductors are in series where nothing but these two power cores meets, at one terminal or at
those joined to it inside parts. Switches are passed, overcurrent devices when asked for.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.leads import OTHER_PURPOSES
from model.graph import Edge, TerminalGraph

NOT_POWER = OTHER_PURPOSES | {"control"}
AC_AND_SIGNAL = ("signal", "L", "L2", "N", "E")


def is_dc_power(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether an edge is a core of a DC power conductor, of either pole."""
    if edge.role != "conductor" or edge.core in AC_AND_SIGNAL:
        return False
    return graph.diagram.conductors[edge.owner].purpose not in NOT_POWER


def series_pairs(
    graph: TerminalGraph, past_devices: bool
) -> Iterator[tuple[tuple[Edge, int], tuple[Edge, int]]]:
    """Yield each two cores in series, each with its own terminal where they meet."""
    done: set[int] = set()
    for start in range(len(graph.names)):
        if start in done:
            continue
        nodes = _meeting(graph, start, past_devices)
        done |= nodes
        cores = [(edge, node) for node in sorted(nodes) for number in graph.edges_at[node]
                 if (edge := graph.edges[number]).role == "conductor"
                 and is_dc_power(graph, edge)]
        if len(cores) == 2 and cores[0][0].owner != cores[1][0].owner and (
                not _has_end(graph, nodes)):
            yield cores[0], cores[1]


def runs(graph: TerminalGraph) -> tuple[tuple[str, ...], ...]:
    """Return the conductors of DC power in groups that carry one and the same current."""
    group: dict[str, list[str]] = {}
    for edge in graph.edges:
        if is_dc_power(graph, edge):
            group.setdefault(edge.owner, [edge.owner])
    for (one, _), (other, _) in series_pairs(graph, past_devices=True):
        mine, theirs = group[one.owner], group[other.owner]
        if mine is not theirs:
            mine.extend(theirs)
            for item in theirs:
                group[item] = mine
    return tuple(dict.fromkeys(tuple(items) for items in group.values()))


def _meeting(graph: TerminalGraph, start: int, past_devices: bool) -> set[int]:
    """Return the terminals joined to one inside parts."""
    passed = ("join", "contact", "overcurrent") if past_devices else ("join", "contact")
    seen, stack = {start}, [start]
    while stack:
        node = stack.pop()
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.role in passed and edge.other(node) not in seen:
                seen.add(edge.other(node))
                stack.append(edge.other(node))
    return seen


def _has_end(graph: TerminalGraph, nodes: set[int]) -> bool:
    """Say whether a load, source, converter or diode is reached there, or a device not passed."""
    for node in nodes:
        source = graph.kinds[graph.component_of[node]].source
        if source is not None:
            return True
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.role in ("load", "source", "converter", "diode") or (
                    edge.role == "overcurrent" and edge.other(node) not in nodes):
                return True
    return False
