"""What a conductor or device serves: all that is reached by going on from one of its ends."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from model.graph import Edge, TerminalGraph

EMPTY: frozenset[str] = frozenset()


class Served(Struct, frozen=True):
    """Ids of the parts reached, by what they are to the network.

    `converters` are those whose input is reached, `chargers` the sources and converters whose
    output is reached (alternators apart), `batteries` those reached at a post.
    """

    loads: frozenset[str] = EMPTY
    converters: frozenset[str] = EMPTY
    chargers: frozenset[str] = EMPTY
    alternators: frozenset[str] = EMPTY
    batteries: frozenset[str] = EMPTY

    def __or__(self, other: Served) -> Served:
        """Return both together."""
        return Served(
            self.loads | other.loads, self.converters | other.converters,
            self.chargers | other.chargers, self.alternators | other.alternators,
            self.batteries | other.batteries)

    @property
    def only_charging(self) -> bool:
        """Say whether it is charging sources that are served, and no consumer or battery."""
        sources = self.chargers | self.alternators
        return bool(sources) and not (self.loads | self.converters - sources | self.batteries)


def served(
    graph: TerminalGraph, came: Edge, start: int, posts: Mapping[int, str]
) -> Served:
    """Return what is reached from a node without going back over the edge that led there.

    Contacts count as closed and devices as intact; loads, batteries and converters end the way.
    `posts` are the nodes of each battery's post and starter circuit: what lies beyond them is fed
    by that battery.
    """
    loads: set[str] = set()
    converters: set[str] = set()
    chargers: set[str] = set()
    alternators: set[str] = set()
    batteries: set[str] = set()
    seen, stack = {start, came.other(start)}, [start]
    while stack:
        node = stack.pop()
        if node in posts:
            batteries.add(posts[node])
            continue
        part = graph.component_of[node]
        source = graph.kinds[part].source
        if source is not None and source.kind != "battery":
            (alternators if source.kind == "alternator" else chargers).add(part)
        for after, edge in graph.neighbours[node]:
            if edge.role == "load":
                loads.add(edge.owner)
            elif edge.role == "source":
                batteries.add(edge.owner)
            elif edge.role == "converter":
                (converters if edge.a == node else chargers).add(edge.owner)
            elif after not in seen and not (edge.one_way and edge.a != node):
                seen.add(after)
                stack.append(after)
    return Served(frozenset(loads), frozenset(converters), frozenset(chargers),
                  frozenset(alternators), frozenset(batteries))
