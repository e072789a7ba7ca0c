"""Shunts in a drawn negative: which bank each counts, and what bypasses it on the battery's side.

The stem is what joins the bank's minus to the shunt. Whatever else leaves the stem is not counted.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.analysis.banks import Bank
from model.analysis.fed_by import starters_fed
from model.analysis.negatives import (
    is_drawn,
    minus_posts,
    negative_passes,
    negative_reach,
    returns_at,
)
from model.analysis.reach import reach
from model.graph import Edge, TerminalGraph
from model.kinds.conversion import charging_kinds

if TYPE_CHECKING:
    from model.survey import Survey

NO_CURRENT = ("sense", "data", "bonding", "case_ground", "lightning")
SOURCES = frozenset({*charging_kinds(), "alternator", "wind_generator", "dc_dc_converter"})


@dataclass(frozen=True, slots=True)
class Shunted:
    """A shunt in the negative of a bank: its terminals on the bank's and on the system's side."""

    shunt: str
    bank: Bank
    battery_node: int
    system_node: int


@dataclass(frozen=True, slots=True)
class Bypass:
    """A conductor that leaves a bank's minus before the shunt, and what returns over it.

    `at` is its terminal on the stem; `around` says that it leads to the shunt's other side.
    """

    shunted: Shunted
    conductor: str
    at: int
    loads: tuple[str, ...]
    sources: tuple[str, ...]
    around: bool


def shunted_banks(survey: Survey) -> Iterator[Shunted]:
    """Yield the shunts in drawn negatives, each with the bank it counts."""
    graph = survey.graph
    for part in survey.diagram.components.values():
        if part.kind != "shunt" or part.parameters.get("poles", "-") != "-":
            continue
        ends = [graph.number[f"{part.id}.{name}"] for name in ("a", "b")]
        steps = {node: _steps(graph, node, part.id) for node in ends}
        measured = part.parameters.get("measures")
        for bank in survey.banks:
            if measured is not None and measured not in bank.batteries:
                continue
            posts = [n for b in bank.batteries
                     if survey.potentials[n := graph.number[f"{b}.-"]].side == "-"]
            near = {node: min((own[p] for p in posts if p in own), default=None)
                    for node, own in steps.items()}
            reached = [node for node in ends if near[node] is not None]
            if reached:
                battery_node = min(reached, key=lambda node: near[node] or 0)
                other = ends[1] if battery_node == ends[0] else ends[0]
                yield Shunted(part.id, bank, battery_node, other)
                break


def _steps(graph: TerminalGraph, start: int, shunt: str) -> dict[int, int]:
    """Return how many edges each negative terminal is from one end of a shunt. [1]."""
    steps = {start: 0}
    queue = deque([start])
    while queue:
        node = queue.popleft()
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            after = edge.other(node)
            if edge.owner != shunt and after not in steps and negative_passes(edge, node):
                steps[after] = steps[node] + 1
                queue.append(after)
    return steps


def bypasses(survey: Survey) -> Iterator[Bypass]:
    """Yield every conductor on the battery's side of a shunt over which current returns."""
    graph = survey.graph
    for shunted in shunted_banks(survey):
        stem, own = _stem(survey, shunted)
        for node in sorted(stem):
            for number in graph.edges_at[node]:
                edge = graph.edges[number]
                if edge.role == "conductor" and edge.core == "-" and edge.owner not in own and (
                        edge.other(node) not in stem):
                    found = _bypass(survey, shunted, edge, node, stem)
                    if found is not None:
                        yield found


def _stem(survey: Survey, shunted: Shunted) -> tuple[set[int], set[str]]:
    """Return the terminals and conductors that join the bank's minus posts to the shunt."""
    graph = survey.graph
    steps = _steps(graph, shunted.battery_node, shunted.shunt)
    nodes, wires = {shunted.battery_node}, set()
    for battery in shunted.bank.batteries:
        node = graph.number[f"{battery}.-"]
        if survey.potentials[node].side != "-":
            continue
        while node in steps and node not in nodes:
            nodes.add(node)
            edge = next(e for i in graph.edges_at[node]
                        if negative_passes(e := graph.edges[i], node)
                        and e.owner != shunted.shunt
                        and steps.get(e.other(node)) == steps[node] - 1)
            if edge.role == "conductor":
                wires.add(edge.owner)
            node = edge.other(node)
    return reach(graph, nodes, lambda e, _: e.role == "join" and e.owner != shunted.shunt), wires


def _bypass(
    survey: Survey, shunted: Shunted, edge: Edge, node: int, stem: set[int]
) -> Bypass | None:
    graph = survey.graph
    if survey.diagram.conductors[edge.owner].purpose in NO_CURRENT:
        return None
    beyond = reach(graph, [edge.other(node)], lambda e, n: (
        e.owner not in (shunted.shunt, edge.owner) and e.other(n) not in stem
        and negative_passes(e, n)))
    around = shunted.system_node in beyond
    if around:
        return Bypass(shunted, edge.owner, node, (), (), True)
    if set(minus_posts(graph, beyond)) - set(shunted.bank.batteries):
        return None
    components = survey.diagram.components
    loads = tuple(item for item in returns_at(graph, beyond)
                  if components[item].kind != "monitor")
    sources = tuple(sorted({graph.component_of[n] for n in beyond
                            if components[graph.component_of[n]].kind in SOURCES
                            and is_drawn(graph, n)} - set(loads)))
    return Bypass(shunted, edge.owner, node, loads, sources, False) if loads or sources else None


def carries_cranking(survey: Survey, shunted: Shunted) -> tuple[str, ...]:
    """Return the starters whose current, from a bank that is not counted, passes the shunt.

    The bank's minus and the starter's meet over the shunt and in no other way.
    """
    graph = survey.graph
    found = []
    for starter, batteries in starters_fed(graph).items():
        minus = graph.number[f"{starter}.-"]
        feeding = batteries - set(shunted.bank.batteries)
        with_it = negative_reach(graph, [minus])
        without = negative_reach(graph, [minus], [shunted.shunt])
        posts = {graph.number[f"{battery}.-"] for battery in feeding}
        if posts & with_it and not posts & without:
            found.append(starter)
    return tuple(sorted(found))

