"""Charging leads: from a charging source's output to where a battery can drive a fault into it."""

from __future__ import annotations

from dataclasses import dataclass

from model.analysis.protection import is_positive_core
from model.analysis.ways import branch_count
from model.graph import Edge, TerminalGraph
from model.kinds.conversion import charging_kinds

TAP_KINDS = ("busbar", "terminal_block", "panel", "fuse_block")


@dataclass(frozen=True, slots=True)
class ChargingLead:
    """The lead of one output. `edge` and `node` are its battery end; `conductors` run from there
    to the source. `at_battery` tells a battery terminal from a bus or stud."""

    source: str
    conductors: tuple[str, ...]
    edge: Edge
    node: int
    at_battery: bool
    rated_a: float | None


def charging_leads(graph: TerminalGraph) -> tuple[ChargingLead, ...]:
    """Return the leads of alternators, chargers, controllers and DC-DC chargers.

    An inverter-charger draws from its bank too and is judged as a load.
    """
    found = []
    for component in graph.diagram.components.values():
        for node, rated_a in _outputs(graph, component.id):
            lead = _lead(graph, component.id, node, rated_a)
            if lead is not None:
                found.append(lead)
    return tuple(found)


def _outputs(graph: TerminalGraph, component: str) -> list[tuple[int, float | None]]:
    part = graph.diagram.components[component]
    if part.kind == "alternator":
        return [(graph.number[f"{component}.+"], part.parameters.get("rated_a"))]
    field = charging_kinds().get(part.kind)
    if field is None or part.kind == "inverter_charger":
        return []
    rated_a = part.parameters.get(field)
    return [(edge.b, rated_a) for edge in graph.edges_of.get(component, ())
            if edge.role == "converter" and graph.names[edge.b].endswith("+")]


def _lead(
    graph: TerminalGraph, source: str, node: int, rated_a: float | None
) -> ChargingLead | None:
    """Follow the output in series until a battery, a bus or a branch."""
    conductors: list[str] = []
    last: Edge | None = None
    came = -1
    seen = {node}
    while True:
        step = _step(graph, node, came, seen)
        if step is None:
            break
        edge, here = step
        if is_positive_core(edge):
            conductors.append(edge.owner)
            last = edge
        came, node = edge.index, edge.other(here)
        seen.add(node)
        if last is not None and is_positive_core(edge) and _is_end(graph, node):
            break
    if last is None or last.b != node and last.a != node:
        return None
    part = graph.diagram.components[graph.component_of[node]]
    at_battery = part.kind == "battery_bank"
    return ChargingLead(source, tuple(reversed(conductors)), last, node, at_battery, rated_a)


def _is_end(graph: TerminalGraph, node: int) -> bool:
    kind = graph.diagram.components[graph.component_of[node]].kind
    if kind in (*TAP_KINDS, "battery_bank", "starter"):
        return True
    return branch_count(graph, node) > 2


def _step(
    graph: TerminalGraph, node: int, came: int, seen: set[int]
) -> tuple[Edge, int] | None:
    """Return the one way on from a terminal, or None."""
    exits = [
        graph.edges[number] for number in graph.edges_at[node]
        if number != came and graph.edges[number].other(node) not in seen
        and (is_positive_core(graph.edges[number])
             or graph.edges[number].role in ("join", "contact", "overcurrent"))
    ]
    return (exits[0], node) if len(exits) == 1 else None
