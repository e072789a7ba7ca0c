"""Sense leads: thin wires from a battery or bus to meters, regulators, coils and data modules.

Followed from the meter back to the first fuse and on to where the wire starts. Cores of every
pole count: a sense wire is often drawn as a signal.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.graph import Edge, TerminalGraph

METERS = frozenset({
    ("monitor", "+"), ("monitor", "sense"), ("regulator", "sense"), ("solar_controller", "sense"),
    ("battery_management_unit", "supply"), ("contactor", "coil+"), ("relay", "coil+"),
})
SENSING = frozenset({"sense", "data"})
AC_CORES = frozenset({"L", "L2", "N", "E"})


@dataclass(frozen=True, slots=True)
class SenseLead:
    """What a lead serves ("P1" at its terminal), where it starts, and its first device.

    `conductors` lie between the start and the device, or the meter when there is none.
    """

    meter: str
    terminal: str
    node: int
    device: str
    conductors: tuple[str, ...]


def sense_leads(graph: TerminalGraph) -> tuple[SenseLead, ...]:
    """Return the leads of all meters, and of what else a wire for sensing or data leads to."""
    found: dict[tuple[int, str], SenseLead] = {}
    for edge, node in _at_meters(graph):
        lead = _followed(graph, edge, node)
        found.setdefault((lead.node, lead.conductors[-1] if lead.conductors else ""), lead)
    return tuple(found.values())


def _at_meters(graph: TerminalGraph) -> Iterator[tuple[Edge, int]]:
    for edge in graph.edges:
        if edge.role != "conductor" or edge.core in AC_CORES:
            continue
        wire = graph.diagram.conductors[edge.owner]
        for node in (edge.a, edge.b):
            part, _, terminal = graph.names[node].partition(".")
            kind = graph.diagram.components[part].kind
            start = graph.component_of[edge.other(node)]
            if (kind, terminal) in METERS or (
                    wire.purpose in SENSING and _is_start(graph, start)
                    and not _is_start(graph, part)):
                yield edge, node


def _is_start(graph: TerminalGraph, part: str) -> bool:
    return graph.kinds[part].role in ("storage", "distribution", "switch", "protection")


def _followed(graph: TerminalGraph, edge: Edge, node: int) -> SenseLead:
    meter, _, terminal = graph.names[node].partition(".")
    conductors, device, here, came = [edge.owner], "", edge.other(node), edge
    while not device:
        through = next((graph.edges[i] for i in graph.edges_at[here]
                        if graph.edges[i].role == "overcurrent"), None)
        if through is None:
            break
        device, here, conductors = through.item, through.other(here), []
        onward = [graph.edges[i] for i in graph.edges_at[here]
                  if graph.edges[i].role == "conductor" and graph.edges[i] is not came]
        if len(onward) == 1:
            conductors, here = [onward[0].owner], onward[0].other(here)
    return SenseLead(meter, terminal, here, device, tuple(conductors))
