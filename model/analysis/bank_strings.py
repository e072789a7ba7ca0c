"""How the batteries of a bank stand: in series one below the other, and side by side."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from model.analysis.reach import reach
from model.graph import TerminalGraph

LINKS = ("conductor", "join", "overcurrent")


def below(graph: TerminalGraph, battery: str) -> frozenset[str]:
    """Return the batteries whose positive posts stand at a battery's negative: next in series."""
    return graph.of_wiring(("below", battery), lambda: _below(graph, battery))


def _below(graph: TerminalGraph, battery: str) -> frozenset[str]:
    net = reach(graph, [graph.number[f"{battery}.-"]], lambda edge, _: edge.role in LINKS)
    return frozenset(
        part.id for part in graph.diagram.components.values()
        if part.kind == "battery_bank" and part.id != battery
        and graph.number[f"{part.id}.+"] in net)


def feet(graph: TerminalGraph, battery: str) -> frozenset[str]:
    """Return the lowest batteries of the string a battery stands in: itself with none below it."""
    string, left = {battery}, [battery]
    while left:
        lower = below(graph, left.pop()) - string
        string |= lower
        left += lower
    return frozenset(item for item in string if not below(graph, item))


def over_strings(
    graph: TerminalGraph, batteries: Iterable[str], each: Mapping[str, float]
) -> float:
    """Return what batteries give together when each gives so much: summed side by side, and of a
    string what its weakest gives, also where it is short-circuited into a ring without a top.
    """
    wanted = frozenset(batteries)
    top = wanted.difference(*(below(graph, battery) for battery in wanted))
    if not top:
        return min((each[battery] for battery in wanted), default=0.0)
    return _given(graph, top, {battery: each[battery] for battery in wanted})


def _given(graph: TerminalGraph, row: frozenset[str], each: Mapping[str, float]) -> float:
    """Return what batteries side by side give, no more than those in series below them."""
    rest = {battery: gives for battery, gives in each.items() if battery not in row}
    by_lower: dict[frozenset[str], float] = {}
    for battery in row:
        lower = below(graph, battery) & frozenset(rest)
        by_lower[lower] = by_lower.get(lower, 0.0) + each[battery]
    return sum(min(gives, _given(graph, lower, rest)) if lower else gives
               for lower, gives in by_lower.items())
