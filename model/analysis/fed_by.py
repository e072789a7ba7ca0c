"""Which batteries feed a terminal as things stand.

Back from the terminal: through conductors, closed contacts and devices, against diodes and
converters that supply loads. A relay that volts work is taken as open: nothing charges.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from model.analysis.banks import loads_at
from model.analysis.reach import (
    Onward,
    Passes,
    came_from,
    follow,
    leads_to,
    onward_in,
    reach,
    rewritten,
    standing,
    way_back,
)
from model.graph import Edge, TerminalGraph


def fed_by(
    graph: TerminalGraph, nodes: Iterable[int], positions: Mapping[str, str] | None = None
) -> frozenset[str]:
    """Return the batteries that feed any of these terminals."""
    asked = set(nodes)
    return frozenset(battery for battery, fed in _fed(graph, positions or {})
                     if not asked.isdisjoint(fed))


def _fed(
    graph: TerminalGraph, positions: Mapping[str, str]
) -> tuple[tuple[str, set[int]], ...]:
    """Return each battery post by its battery, with the terminals it feeds: there are few posts,
    and many terminals of which one asks.
    """
    def made() -> tuple[tuple[str, set[int]], ...]:
        ways = _forward(graph, positions)
        return tuple((graph.component_of[post], follow(ways, [post]))
                     for post in battery_posts(graph))

    return graph.of_wiring(("fed by", standing(positions)), made)


def way_from_battery(
    graph: TerminalGraph, node: int, positions: Mapping[str, str]
) -> tuple[Edge, ...]:
    """Return the shortest way from a terminal back to a battery that feeds it, if one does."""
    came = came_from(graph, [node], _backwards(graph, positions))
    post = next((at for at in came if is_battery_post(graph, at)), None)
    return () if post is None else way_back(came, post)


def _forward(graph: TerminalGraph, positions: Mapping[str, str]) -> Onward:
    return onward_in(graph, positions, "fed", lambda edge, node: (
        not (edge.one_way and edge.a != node) and _would_feed(graph, edge)))


def _backwards(graph: TerminalGraph, positions: Mapping[str, str]) -> Passes:
    return lambda edge, node: not (edge.one_way and edge.b != node) and (
        _feeds(graph, edge, positions))


def is_battery_post(graph: TerminalGraph, node: int) -> bool:
    """Say whether a terminal is the positive post or a tap of a battery that is not in store."""
    return node in battery_posts(graph)


def battery_posts(graph: TerminalGraph) -> frozenset[int]:
    """Return the positive posts and taps of the batteries that are not in store."""
    return graph.of_wiring("posts and taps", lambda: frozenset(
        node for node in range(len(graph.names)) if _is_post(graph, node)))


def _is_post(graph: TerminalGraph, node: int) -> bool:
    part = graph.diagram.components[graph.component_of[node]]
    return part.kind == "battery_bank" and part.stored is not True and (
        not graph.names[node].endswith(".-"))


def fed_without(graph: TerminalGraph, device: Edge, other: Edge) -> bool:
    """Say whether a battery feeds a device as things stand by a way that another is not on."""
    left_out = (device.item, other.item)

    def passes(edge: Edge, _: int) -> bool:
        return not (edge.role == "overcurrent" and edge.item in left_out) and _feeds(
            graph, edge, {})

    either_way = onward_in(graph, {}, "feeding either way", lambda edge, _: (
        _would_feed(graph, edge)))
    ends = {node for item in (device.owner, other.owner) for node in graph.nodes_of(item)}
    batteries = graph.of_wiring("nodes of batteries", lambda: frozenset(
        node for node, item in enumerate(graph.component_of)
        if graph.diagram.components[item].kind == "battery_bank"))
    return leads_to(rewritten(graph, either_way, ends, passes), [device.a, device.b], batteries)


def fed_loads(
    graph: TerminalGraph, batteries: Iterable[str], positions: Mapping[str, str]
) -> frozenset[str]:
    """Return the loads that batteries feed in a state; the same ways, forward."""
    posts = [graph.number[f"{battery}.+"] for battery in batteries]
    return frozenset(loads_at(graph, follow(_forward(graph, positions), posts)))


def supplied_loads(
    graph: TerminalGraph, batteries: Iterable[str], positions: Mapping[str, str]
) -> Mapping[str, tuple[str, ...]]:
    """Return the loads that batteries really supply in a state, each with the converters on the
    way, from the batteries on.

    What any battery feeds without a converter is supplied by that one; a converter only helps it.
    """
    asked = frozenset(batteries)
    return graph.of_wiring(("supplied", asked, standing(positions)), lambda: (
        _supplied(graph, asked, positions)))


def _supplied(
    graph: TerminalGraph, batteries: frozenset[str], positions: Mapping[str, str]
) -> Mapping[str, tuple[str, ...]]:
    converters = [edge for edge in graph.edges
                  if edge.role == "converter" and _would_feed(graph, edge)]
    ways = list(_forward(graph, positions))
    for edge in converters:
        ways[edge.a] = [after for after, way in graph.neighbours[edge.a]
                        if way.role != "converter" and after in ways[edge.a]]
    by_batteries = follow(ways, battery_posts(graph)) if converters else set()
    supplied: dict[str, tuple[str, ...]] = {}
    posts = [graph.number[f"{item}.+"] for item in batteries]
    found: list[tuple[set[int], tuple[str, ...]]] = [(follow(ways, posts), ())]
    for nodes, passed in found:
        supplied = {**dict.fromkeys(loads_at(graph, nodes), passed), **supplied}
        found += [
            (follow(ways, [edge.b]) - by_batteries, (*passed, edge.owner))
            for edge in converters if edge.a in nodes and edge.owner not in passed]
    return supplied


def fed_nodes(graph: TerminalGraph, nodes: Iterable[int]) -> set[int]:
    """Return what some terminals feed as things stand, without passing a converter."""
    return reach(graph, nodes, lambda edge, node: (
        not (edge.one_way and edge.a != node) and edge.role != "converter"
        and _feeds(graph, edge, {})))


def _feeds(graph: TerminalGraph, edge: Edge, positions: Mapping[str, str]) -> bool:
    return graph.is_closed(edge, positions) and _would_feed(graph, edge)


def _would_feed(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether an edge feeds on when it is closed."""
    if edge.role in ("load", "source"):
        return False
    kind = "" if edge.role == "conductor" else graph.diagram.components[edge.owner].kind
    if edge.role == "converter" and kind != "dc_dc_converter":
        return False
    return kind != "voltage_sensing_relay"


def starters_fed(
    graph: TerminalGraph, positions: Mapping[str, str] | None = None
) -> Mapping[str, frozenset[str]]:
    """Return the batteries that feed each starter; through a converter nothing is cranked."""
    backwards = _backwards(graph, positions or {})

    def cranks(edge: Edge, node: int) -> bool:
        return edge.role != "converter" and backwards(edge, node)

    return {c.id: frozenset(
        graph.component_of[node] for node in reach(graph, [graph.number[f"{c.id}.+"]], cranks)
        if is_battery_post(graph, node))
        for c in graph.diagram.components.values() if c.kind == "starter"}
