"""Where an alternator's external regulator senses."""

from __future__ import annotations

from collections.abc import Container, Mapping

from model.analysis.charging import by_volts
from model.analysis.fed_by import fed_by
from model.analysis.reach import reach
from model.graph import Edge, TerminalGraph


def sense_node(graph: TerminalGraph, regulator: str) -> int | None:
    """Return the terminal by which a regulator senses, None when no sense wire is drawn."""
    node = graph.number[f"{regulator}.sense"]
    return None if node in graph.bare else node


def supply_node(graph: TerminalGraph, regulator: str) -> int | None:
    """Return the terminal by which a regulator is supplied, None when that is not drawn."""
    node = graph.number[f"{regulator}.supply"]
    return None if node in graph.bare else node


def is_dead(graph: TerminalGraph, regulator: str, positions: Mapping[str, str]) -> bool:
    """Say whether a regulator's supply is drawn and no battery feeds it in a state: its alternator
    has no field then.
    """
    node = supply_node(graph, regulator)
    return node is not None and not fed_by(graph, [node], positions)


def sensed_point(
    graph: TerminalGraph, node: int, positions: Mapping[str, str], without: Container[Edge] = ()
) -> set[int]:
    """Return the terminals that are one point with another for a sense wire in a state: joined
    without diode, converter or relay that volts work, also when some edges are left out.
    """
    def passes(edge: Edge, _: int) -> bool:
        if edge.role in ("load", "source", "converter", "diode") or by_volts(graph, edge):
            return False
        return edge not in without and graph.is_closed(edge, positions)

    return reach(graph, [node], passes)
