"""The boat's ground: engine, hull, earth plates and bonding, and what leads to it."""

from __future__ import annotations

from collections.abc import Iterable

from model.analysis.reach import reach
from model.diagram import Component
from model.graph import Edge, TerminalGraph

GROUND = ("engine_block", "earth_plate", "hull_bond", "bonding_bus")
EARTHING = frozenset({"bonding", "case_ground", "lightning"})


def ground_parts(graph: TerminalGraph) -> list[Component]:
    """Return what is ground aboard; a plate that a capacitor parts from the rest is none."""
    return [part for part in graph.diagram.components.values() if part.kind in GROUND
            and part.parameters.get("capacitor_only") is not True]


def grounds(edge: Edge) -> bool:
    """Say whether an edge belongs to negatives, earths and bonding."""
    if edge.role == "conductor":
        return edge.core in ("-", "E")
    return edge.role == "join"


def grounded(graph: TerminalGraph, nodes: Iterable[int], without: str = "") -> set[int]:
    """Return what terminals are joined to by negatives, earths and bonding, one part left out."""
    return reach(graph, nodes, lambda edge, _: grounds(edge) and edge.owner != without)


def reaches_ground(graph: TerminalGraph, nodes: Iterable[int], without: str = "") -> bool:
    """Say whether terminals are joined to the boat's ground, one part left out."""
    own = {node for part in ground_parts(graph) for node in graph.nodes_of(part.id)}
    return bool(grounded(graph, nodes, without) & own)
