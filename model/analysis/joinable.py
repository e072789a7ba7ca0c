"""Which batteries can be joined at their positive posts in any position of the switches, and which
stand joined.

A question about ways, not about states: every contact of a kind that knows several positions can be
closed together with the others, but a change-over never joins its two banks. Converters and
chargers join nothing; a diode joins in its own direction.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from itertools import product

from model.analysis.reach import Passes, came_from, reach, standing, way_back
from model.analysis.starter import is_emergency_link
from model.diagram import Diagram
from model.graph import Edge, TerminalGraph
from model.kinds.storage import nominal_v


def joinable(graph: TerminalGraph, battery: str) -> Mapping[str, tuple[Edge, ...]]:
    """Return each other battery whose post can be reached first, with one shortest way to it."""
    return graph.once(("joinable", battery), lambda: _ways(graph, battery, lambda edge, node: (
        _joins(edge) and not (edge.one_way and edge.a != node))))


def joinable_by_hand(graph: TerminalGraph, battery: str) -> Mapping[str, tuple[Edge, ...]]:
    """Return the same over ways on which no diode is, no link for emergencies and no relay that
    volts work.
    """
    return _ways(graph, battery, lambda edge, _: (
        _joins(edge) and not edge.one_way and not _by_volts(graph, edge)
        and not (edge.role == "contact" and is_emergency_link(graph, edge.owner))))


def joined_ways(
    graph: TerminalGraph, battery: str, positions: Mapping[str, str]
) -> Mapping[str, tuple[Edge, ...]]:
    """Return each other battery that stands joined to one in a state, with a shortest way.

    Nothing flows by a diode both ways, and a relay that volts work opens by itself: neither joins.
    """
    return graph.once(("joined", battery, standing(positions)), lambda: _ways(
        graph, battery, lambda edge, _: (
            _joins(edge) and not edge.one_way and graph.is_closed(edge, positions)
            and not _by_volts(graph, edge))))


def joined_for_good(graph: TerminalGraph, battery: str) -> frozenset[str]:
    """Return the batteries that stand side by side with one, no contact between."""
    return frozenset(other for other, way in joined_ways(graph, battery, {}).items()
                     if all(edge.role != "contact" for edge in way))


def _ways(
    graph: TerminalGraph, battery: str, passes: Passes
) -> Mapping[str, tuple[Edge, ...]]:
    posts = {graph.number[f"{c.id}.+"]: c.id for c in graph.diagram.components.values()
             if c.kind == "battery_bank" and c.id != battery and c.stored is not True}
    start = graph.number[f"{battery}.+"]

    def reached(positions: Mapping[str, str]) -> dict[int, Edge | None]:
        return came_from(graph, [start], lambda edge, node: (
            node not in posts and passes(edge, node)
            and (edge.owner not in positions or positions[edge.owner] in edge.closed_in)))

    found: dict[str, tuple[Edge, ...]] = {}
    for came in map(reached, _change_overs(graph)):
        for node in (n for n in came if n in posts):
            way = way_back(came, node)
            found[posts[node]] = min(found.get(posts[node], way), way, key=len)
    return found


def _change_overs(graph: TerminalGraph) -> list[dict[str, str]]:
    """Return all ways in which the change-overs can stand together."""
    turned = [part.id for part in graph.diagram.components.values()
              if part.kind == "selector_switch" and part.parameters.get("role") == "changeover"]
    return [dict(zip(turned, positions, strict=True))
            for positions in product(("1", "2"), repeat=len(turned))]


def _joins(edge: Edge) -> bool:
    if edge.role in ("load", "source", "converter"):
        return False
    return edge.core not in ("L", "L2", "N", "E", "signal")


def _by_volts(graph: TerminalGraph, edge: Edge) -> bool:
    return (edge.role == "contact"
            and graph.diagram.components[edge.owner].kind == "voltage_sensing_relay")


def besides_mains(diagram: Diagram, contacts: tuple[str, ...]) -> tuple[str, ...]:
    """Return the contacts on a way but the banks' own switches; all when there are no others."""
    others = tuple(c for c in contacts if diagram.components[c].kind != "battery_switch")
    return others or contacts


def post_v(graph: TerminalGraph, battery: str, above: frozenset[str] = frozenset()) -> float | None:
    """Return the nominal volts of a battery's positive post, from its own blocks and from those
    that stand in series below it; no contact is passed. None when not stated. [V].
    """
    return graph.of_wiring(("post volts", battery, above), lambda: _post_v(graph, battery, above))


def _post_v(graph: TerminalGraph, battery: str, above: frozenset[str]) -> float | None:
    own = nominal_v(graph.diagram.components[battery].parameters)
    below = reach(graph, [graph.number[f"{battery}.-"]],
                  lambda edge, _: edge.role in ("conductor", "join"))
    for node in sorted(below):
        part = graph.component_of[node]
        if graph.names[node] == f"{part}.+" and part not in {battery, *above} and (
                graph.diagram.components[part].kind == "battery_bank"):
            lower = post_v(graph, part, above | {battery})
            return None if own is None or lower is None else lower + own
    return own


def at_highest_post(graph: TerminalGraph, batteries: Iterable[str]) -> list[str]:
    """Return of a bank the batteries at its highest post: of those in series one for all."""
    volts = {item: post_v(graph, item) for item in batteries}
    highest_v = max((v for v in volts.values() if v is not None), default=None)
    return [item for item, v in volts.items() if v == highest_v]
