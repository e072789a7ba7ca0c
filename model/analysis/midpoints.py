"""Midpoints of series banks: taps, and the points between batteries in series; what leaves them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.reach import ever_joined, reach
from model.graph import Edge, TerminalGraph

USES_ENERGY = ("load", "converter", "source")


@dataclass(frozen=True, slots=True)
class Midpoint:
    """A midpoint: the battery below it, the parts on it that use or give energy, equalisers.

    `below_count` is how many blocks of the battery lie below a tap, None at its post.
    """

    battery: str
    below_count: int | None
    users: tuple[str, ...]
    equalisers: tuple[str, ...]


def midpoints(graph: TerminalGraph) -> Iterator[Midpoint]:
    """Yield each midpoint of a series bank once."""
    seen: set[int] = set()
    for battery, node in _starts(graph):
        if node not in seen:
            own = reach(graph, [node], _drawn)
            seen |= own
            around = {graph.component_of[n] for n in ever_joined(graph, own)}
            kinds = graph.kinds
            yield Midpoint(
                battery, _blocks_below(graph, battery, node),
                tuple(sorted(item for item in around if kinds[item].role in USES_ENERGY
                             and kinds[item].slug != "monitor")),
                tuple(sorted(item for item in around if kinds[item].slug == "equaliser")))


def _starts(graph: TerminalGraph) -> Iterator[tuple[str, int]]:
    """Yield the taps, and the plus posts to which another battery's minus is joined."""
    for part in graph.diagram.components.values():
        if part.kind != "battery_bank":
            continue
        for node in graph.nodes_of(part.id):
            if ".tap_" in graph.names[node]:
                yield part.id, node
        plus = graph.number[f"{part.id}.+"]
        for node in reach(graph, [plus], _drawn):
            other = graph.component_of[node]
            if graph.names[node] == f"{other}.-" and other != part.id and (
                    graph.kinds[other].slug == "battery_bank"):
                yield part.id, plus


def _blocks_below(graph: TerminalGraph, battery: str, node: int) -> int | None:
    """Return how many blocks lie below a tap, None at a post."""
    taps = graph.diagram.components[battery].parameters.get("taps", ())
    return next((tap.get("after_block", 1) for tap in taps
                 if graph.names[node] == f"{battery}.tap_{tap['id']}"), None)


def _drawn(edge: Edge, _node: int) -> bool:
    return edge.role in ("conductor", "join")
