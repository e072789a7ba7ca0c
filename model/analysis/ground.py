"""The boat's ground: engine, hull, earth plates and bonding, and what leads to it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Set
from dataclasses import dataclass
from typing import Literal

from model.analysis.bank_strings import feet
from model.analysis.charging import posts
from model.analysis.circuit_switches import feeding_in_use
from model.analysis.negatives import is_drawn, joined_home
from model.analysis.reach import ever_joined, reach
from model.diagram import Component, Conductor
from model.graph import Edge, TerminalGraph

GROUND = ("engine_block", "earth_plate", "hull_bond", "bonding_bus")
CARRYING = ("load", "source", "converter")
EARTHING = frozenset({"bonding", "case_ground", "lightning"})
CASED = ("inverter", "inverter_charger", "shore_charger")


def ground_parts(graph: TerminalGraph) -> tuple[Component, ...]:
    """Return what is ground aboard; a plate that a capacitor parts from the rest is none."""
    return graph.of_devices("ground parts", lambda: tuple(
        part for part in graph.diagram.components.values() if part.kind in GROUND
        and part.parameters.get("capacitor_only") is not True))


def is_case_ground(graph: TerminalGraph, wire: Conductor) -> bool:
    """Say whether a conductor grounds a case: by its purpose, or bonding that ends at one."""
    return wire.purpose == "case_ground" or (wire.purpose == "bonding" and any(
        graph.diagram.components[end.component].kind in CASED for end in wire.ends()))


def grounds(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether an edge joins negatives, earths and bonding, as switches usually stand."""
    if edge.role == "conductor":
        return edge.core in ("-", "E")
    return edge.role in ("join", "contact", "overcurrent") and graph.is_closed(edge, {})


def grounded(graph: TerminalGraph, nodes: Iterable[int], without: str = "") -> set[int]:
    """Return what terminals are joined to by negatives, earths and bonding, one part left out."""
    return reach(graph, nodes, lambda edge, _: grounds(graph, edge) and edge.owner != without)


def reaches_ground(graph: TerminalGraph, nodes: Iterable[int], without: str = "") -> bool:
    """Say whether terminals are joined to the boat's ground, one part left out.

    A bonding bus is ground by what it leads to, where anything else that is ground is drawn.
    """
    parts = ground_parts(graph)
    firm = [part for part in parts if part.kind != "bonding_bus"] or parts
    own = {node for part in firm for node in graph.nodes_of(part.id)}
    return bool(grounded(graph, nodes, without) & own)


@dataclass(frozen=True, slots=True)
class WayHome:
    """By what current comes home, and the edges by which it leaves the negatives.

    "negative" is a proper way: over negatives alone. "hull" and "bonding" say what current cannot
    do without, `over` the conductors and parts where it enters them. "" is no way that is drawn.
    """

    by: Literal["negative", "hull", "bonding", ""]
    over: tuple[str, ...] = ()


def ways_home(graph: TerminalGraph) -> Mapping[str, WayHome]:
    """Return how the current of each load, source and converter comes from its minus to a battery.
    """
    return graph.of_wiring("ways_home", lambda: {
        part.id: way_home(graph, part.id) for part in graph.diagram.components.values()
        if graph.kinds[part.id].role in CARRYING and f"{part.id}.-" in graph.number})


def way_home(graph: TerminalGraph, part: str) -> WayHome:
    """Return how current comes from a part's minus to a battery that feeds it or that it feeds.

    Where no way to a battery is drawn, the conductors at the minus itself decide.
    """
    minus = graph.number[f"{part}.-"]
    hull, bonding = graph.of_wiring("hull and bonding", lambda: (_hull(graph), _bonding(graph)))
    goals = homes(graph, part)
    plain = _negatives(graph, minus, hull | bonding)
    if plain & goals:
        return WayHome("negative")
    over = {"hull": _entries(graph, plain, hull), "bonding": _entries(graph, plain, bonding)}
    if _negatives(graph, minus, bonding) & goals:
        return WayHome("hull", over["hull"])
    if _negatives(graph, minus, frozenset()) & goals:
        return WayHome("bonding", over["bonding"])
    drawn = {graph.edges[i].owner for i in graph.edges_at[minus]
             if graph.edges[i].role in ("conductor", "join")}
    for by in ("hull", "bonding"):
        if drawn and drawn <= set(over[by]):
            return WayHome(by, over[by])
    return WayHome("")


def homes(graph: TerminalGraph, part: str) -> frozenset[int]:
    """Return the minus posts that count as home: at the feet of the strings that feed a part or
    that it feeds; of all batteries where none of these has a conductor there.
    """
    plus, batteries = graph.number.get(f"{part}.+"), posts(graph)
    fed: frozenset[str] = frozenset()
    if plus is not None and graph.kinds[part].role == "load":
        fed = feeding_in_use(graph, [plus])
    elif plus is not None:
        reached = ever_joined(graph, [plus])
        fed = frozenset(batteries[node] for node in reached & batteries.keys())
    return graph.of_wiring(("homes of", fed), lambda: _minus_posts(graph, fed))


def _minus_posts(graph: TerminalGraph, fed: frozenset[str]) -> frozenset[int]:
    own = frozenset(graph.number[f"{foot}.-"] for item in fed for foot in feet(graph, item))
    drawn = frozenset(node for node in own if is_drawn(graph, node))
    return drawn or frozenset(graph.number[f"{item}.-"] for item in posts(graph).values())


def _hull(graph: TerminalGraph) -> frozenset[str]:
    return frozenset(part.id for part in graph.diagram.components.values()
                     if part.kind == "hull_bond")


def _bonding(graph: TerminalGraph) -> frozenset[str]:
    """Return what is no return conductor: earths and bonding, plates and bonding buses."""
    return frozenset(wire.id for wire in graph.diagram.conductors.values()
                     if wire.purpose in EARTHING or "E" in wire.cores) | frozenset(
        part.id for part in graph.diagram.components.values()
        if part.kind in ("bonding_bus", "earth_plate"))


def _negatives(graph: TerminalGraph, minus: int, left_out: frozenset[str]) -> Set[int]:
    """Return what a minus is joined to by negatives, some parts and conductors left out."""
    return joined_home(graph, ("negatives", left_out), lambda edge, _: (
        grounds(graph, edge) and not _meets(graph, edge, left_out)), minus)


def _entries(
    graph: TerminalGraph, nodes: Iterable[int], into: frozenset[str]
) -> tuple[str, ...]:
    """Return the owners of the edges that lead from some terminals into some parts and wires."""
    return tuple(sorted({edge.owner for node in nodes
                         for edge in (graph.edges[i] for i in graph.edges_at[node])
                         if grounds(graph, edge) and _meets(graph, edge, into)}))


def _meets(graph: TerminalGraph, edge: Edge, items: frozenset[str]) -> bool:
    """Say whether an edge is of some conductors or parts, or ends at one."""
    return edge.owner in items or graph.component_of[edge.a] in items or (
        graph.component_of[edge.b] in items)
