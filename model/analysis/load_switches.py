"""How a load without a switch of its own is turned off: by a fuse alone, or by something else."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.graph import Edge, TerminalGraph

BANK_SWITCHES = ("battery_switch", "selector_switch", "emergency_link")


@dataclass(frozen=True, slots=True)
class Pulled:
    """A load that states it has no switch, and the fuse that is reached from it without passing a
    switch or breaker ("" for none)."""

    load: str
    fuse: str


def pulled(graph: TerminalGraph) -> Iterator[Pulled]:
    """Yield the loads that are recorded as having no switch of their own."""
    for part in graph.diagram.components.values():
        node = graph.number.get(f"{part.id}.+")
        if node is not None and part.parameters.get("own_switch") is False:
            yield Pulled(part.id, _fuse(graph, node))


def _fuse(graph: TerminalGraph, node: int) -> str:
    seen, stack = {node}, [node]
    while stack:
        here = stack.pop()
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            if edge.role == "overcurrent" and _is_plain_fuse(graph, edge):
                return edge.item
            after = edge.other(here)
            if after not in seen and _passes(graph, edge):
                seen.add(after)
                stack.append(after)
    return ""


def _is_plain_fuse(graph: TerminalGraph, edge: Edge) -> bool:
    return edge.device.get("device", graph.diagram.components[edge.owner].kind) == "fuse"


def _passes(graph: TerminalGraph, edge: Edge) -> bool:
    if edge.role == "conductor":
        return edge.core == "+"
    return edge.role == "contact" and (
        graph.diagram.components[edge.owner].kind in BANK_SWITCHES)
