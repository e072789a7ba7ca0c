"""How a load without a switch of its own is turned off: what stands in its circuit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.graph import TerminalGraph

BANK_SWITCHES = ("battery_switch", "selector_switch", "emergency_link")


@dataclass(frozen=True, slots=True)
class OwnSwitching:
    """A load that states it has no switch: whether a switch or breaker stands between it and the
    nearest point that other circuits share, and the first fuse on that way ("" for none)."""

    load: str
    switched: bool
    fuse: str


def own_switching(graph: TerminalGraph) -> Iterator[OwnSwitching]:
    """Yield the loads that are recorded as having no switch of their own."""
    for part in graph.diagram.components.values():
        node = graph.number.get(f"{part.id}.+")
        if node is not None and part.parameters.get("own_switch") is False:
            yield _followed(graph, part.id, node)


def _followed(graph: TerminalGraph, load: str, node: int) -> OwnSwitching:
    """Follow the circuit from the load up to a distribution part's bar or a battery."""
    seen, stack, fuse, switched = {node}, [node], "", False
    while stack:
        here = stack.pop()
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            part = graph.diagram.components.get(edge.owner)
            if edge.role == "overcurrent":
                sort = edge.device.get("device", part.kind if part is not None else "")
                switched = switched or sort in ("breaker", "fuse_and_switch")
                fuse = fuse or (edge.item if sort == "fuse" else "")
            elif edge.role == "contact":
                switched = switched or (part is not None and part.kind not in BANK_SWITCHES)
            elif edge.role == "conductor" and edge.core == "+":
                after = edge.other(here)
                if after not in seen and graph.kinds[graph.component_of[after]].role != "load":
                    seen.add(after)
                    stack.append(after)
    return OwnSwitching(load, switched, fuse)
