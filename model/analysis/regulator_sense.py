"""Where an alternator's external regulator senses."""

from __future__ import annotations

from model.graph import TerminalGraph


def sense_node(graph: TerminalGraph, regulator: str) -> int | None:
    """Return the terminal by which a regulator senses, else by which it is supplied; None when
    neither is wired.
    """
    nodes = (graph.number[f"{regulator}.{name}"] for name in ("sense", "supply"))
    return next((node for node in nodes if node not in graph.bare), None)

