"""Positive busbars, studs and terminal blocks: the largest device on each, and its current."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.analysis.interrupting import usual_passes
from model.analysis.reach import reach

if TYPE_CHECKING:
    from model.graph import Edge
    from model.survey import Survey

BARS = ("busbar", "stud", "terminal_block")


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar with its rating, the largest device before it or on it, and the largest current of a
    conductor on it over the duty cases. [A]. `device_a` is 0 when there is none.
    """

    id: str
    rated_a: float | None
    device: str
    device_a: float
    current_a: float


def bars(survey: Survey) -> Iterator[Bar]:
    """Yield the bars of the positive side. Cranking current is no lasting one and not counted."""
    for part in survey.diagram.components.values():
        nodes = survey.graph.nodes_of(part.id)
        if part.kind not in BARS or not any(survey.potentials[n].side == "+" for n in nodes):
            continue
        edges = [survey.graph.edges[i] for n in nodes for i in survey.graph.edges_at[n]
                 if survey.graph.edges[i].role == "conductor"]
        rated = dict(_before(survey, nodes))
        rated.update(found for edge in edges for found in _beside(survey, edge, part.id))
        device = max(rated, key=lambda item: rated[item], default="")
        currents = [survey.duty.conductors[edge.owner].current_a for edge in edges
                    if edge.owner in survey.duty.conductors
                    and edge.owner not in survey.starter_circuit]
        yield Bar(part.id, part.parameters.get("rated_a"), device, rated.get(device, 0.0),
                  max(currents, default=0.0))


def _before(survey: Survey, nodes: list[int]) -> Iterator[tuple[str, float]]:
    """Yield the devices through which the bar is usually fed. [A]."""
    passes = usual_passes(survey)
    zone = reach(survey.graph, nodes, lambda edge, node: edge.role != "overcurrent"
                 and passes(edge, node))
    for side in survey.device_sides:
        if side.node in zone and side.rated_a is not None:
            yield side.item, side.rated_a


def _beside(survey: Survey, edge: Edge, bar: str) -> Iterator[tuple[str, float]]:
    """Yield a fuse or breaker at the other end of a conductor on the bar. [A]."""
    there = edge.b if survey.graph.component_of[edge.a] == bar else edge.a
    for number in survey.graph.edges_at[there]:
        device = survey.graph.edges[number]
        if device.role == "overcurrent" and device.device.get("rated_a") is not None and (
                survey.graph.kinds[device.owner].role == "protection"):
            yield device.item, float(device.device["rated_a"])
