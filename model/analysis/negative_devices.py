"""Fuses and breakers that stand in the negative alone, and the loads whose return passes them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.analysis.systems import systems_of
from model.diagram import DcSystem
from model.graph import TerminalGraph

if TYPE_CHECKING:
    from model.survey import Survey


@dataclass(frozen=True, slots=True)
class NegativeDevice:
    """A device drawn in the negative, the loads behind it, and those of them whose positive has no
    device. `system` is their DC system, None when none of their volts is drawn.
    """

    device: str
    loads: tuple[str, ...]
    unguarded: tuple[str, ...]
    system: DcSystem | None


def negative_devices(survey: Survey) -> tuple[NegativeDevice, ...]:
    """Return the devices in a negative conductor with the loads on their far side."""
    graph = survey.graph
    found = []
    for part in graph.diagram.components.values():
        if part.kind not in ("fuse", "breaker") or not _stands_in_negative(graph, part.id):
            continue
        sides = [_loads(graph, graph.number[f"{part.id}.{end}-"], part.id) for end in "ab"]
        loads = min((side for side in sides if side is not None), key=len, default=())
        if loads:
            unguarded = tuple(item for item in loads
                              if graph.number[f"{item}.+"] in survey.unfused_reach)
            found.append(NegativeDevice(part.id, loads, unguarded, _system(survey, loads)))
    return tuple(found)


def _stands_in_negative(graph: TerminalGraph, part: str) -> bool:
    used = {graph.names[node].partition(".")[2][1:] for node in graph.nodes_of(part)
            if any(graph.edges[i].role == "conductor" for i in graph.edges_at[node])}
    return used == {"-"}


def _loads(graph: TerminalGraph, start: int, device: str) -> tuple[str, ...] | None:
    """Return the loads whose minus is reached from a side; None when a battery is reached."""
    seen, stack, loads = {start}, [start], []
    while stack:
        node = stack.pop()
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.role == "source":
                return None
            if edge.role == "load" and edge.b == node:
                loads.append(edge.owner)
            elif edge.role in ("conductor", "join", "contact", "overcurrent") and (
                    edge.owner != device and edge.other(node) not in seen):
                seen.add(edge.other(node))
                stack.append(edge.other(node))
    return tuple(sorted(loads))


def _system(survey: Survey, loads: Iterable[str]) -> DcSystem | None:
    volts = {survey.potentials[survey.graph.number[f"{item}.+"]].nominal_v for item in loads}
    return next(iter(systems_of(survey.diagram, volts)), None)
