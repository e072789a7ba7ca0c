"""Shorts at the far ends of circuits: the smallest current that must open each device."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.analysis.fault_margins import ON_THE_WAY
from model.analysis.interrupting import feeding_batteries
from model.analysis.leads import LeadEnd
from model.analysis.taps import Circuit

if TYPE_CHECKING:
    from model.analysis.device_sides import DeviceSide
    from model.survey import Survey


@dataclass(frozen=True, slots=True)
class FarShort:
    """The end of a device's circuit where a short drives the least through the device. [A].

    `unstated` are lengths and sizes to that end, `unknown_banks` batteries of unknown resistance.
    """

    device: str
    rated_a: float | None
    end: str
    conductors: tuple[str, ...]
    current_a: float
    unstated: tuple[str, ...]
    unknown_banks: tuple[str, ...]


def far_shorts(survey: Survey) -> tuple[FarShort, ...]:
    """Return the weakest far short of every device; electronic ones open on any overload."""
    sides = {side.item: side for side in survey.device_sides}
    worst: dict[str, FarShort] = {}
    for circuit in survey.circuits:
        unknown = circuit.guard.unknown
        side = sides.get(unknown[0] if unknown else circuit.guard.device)
        if side is None or side.edge.device.get("trip") == "electronic":
            continue
        for end in circuit.ends:
            short = _short(survey, circuit, end, side)
            known = worst.get(side.item)
            if short is not None and (known is None or short.current_a < known.current_a):
                worst[side.item] = short
    return tuple(worst.values())


def _short(
    survey: Survey, circuit: Circuit, end: LeadEnd, side: DeviceSide
) -> FarShort | None:
    """Return the short at one end; None where nothing comes through the device."""
    node = _node(survey, end)
    if node is None:
        return None
    weak = survey.faults.weak
    through_a = weak.through_a(side.edge.index, node)
    if through_a < 1 or through_a <= ON_THE_WAY * weak.fault(node).current_a:
        return None
    wires = [survey.diagram.conductors[item] for item in end.conductors]
    unstated = tuple(f"{wire.id}.{name}" for wire in wires for name, value in (
        ("length_m", wire.length_m), ("size", wire.size)) if value is None)
    unknown = tuple(b for b in feeding_batteries(survey, side)
                    if survey.faults.resistances[b] == "unknown")
    return FarShort(side.item, circuit.guard.sure_a, end.item, end.conductors, through_a,
                    unstated, unknown)


def _node(survey: Survey, end: LeadEnd) -> int | None:
    """Return the terminal at which an end's last conductor arrives."""
    part = end.item.partition(".")[0]
    for edge in survey.graph.edges_of.get(end.conductors[-1], ()):
        for node in (edge.b, edge.a):
            if edge.core == "+" and survey.graph.component_of[node] == part:
                return node
    return None
