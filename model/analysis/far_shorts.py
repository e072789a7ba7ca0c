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
    survey.faults.weak.short(*(
        node for circuit in survey.circuits for end in circuit.ends
        for node in _end_nodes(survey, end)))
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
    """Return the short at one end, or before an open contact on the way there; None where nothing
    comes through the device."""
    weak = survey.faults.weak
    for count in range(len(end.conductors), 0, -1):
        conductors = end.conductors[:count]
        nodes = _end_nodes(survey, end) if count == len(end.conductors) else _core(
            survey, conductors[-1])
        fed = {node: a for node in nodes
               if (a := weak.through_a(side.edge.index, node)) >= 1
               and a > ON_THE_WAY * weak.fault(node).current_a}
        if fed:
            node = min(fed, key=lambda n: fed[n])
            whole = count == len(end.conductors)
            at = end.item if whole else survey.graph.component_of[node]
            return _short_at(survey, circuit, conductors, side, at, fed[node])
    return None


def _short_at(
    survey: Survey, circuit: Circuit, conductors: tuple[str, ...], side: DeviceSide, at: str,
    through_a: float,
) -> FarShort:
    wires = [survey.diagram.conductors[item] for item in conductors]
    unstated = tuple(f"{wire.id}.{name}" for wire in wires for name, value in (
        ("length_m", wire.length_m), ("size", wire.size)) if value is None)
    unknown = tuple(b for b in feeding_batteries(survey, side)
                    if survey.faults.resistances[b] == "unknown")
    return FarShort(side.item, circuit.guard.sure_a, at, conductors, through_a,
                    unstated, unknown)


def _end_nodes(survey: Survey, end: LeadEnd) -> list[int]:
    """Return the terminal at which an end's last conductor arrives."""
    part = end.item.partition(".")[0]
    return [node for node in _core(survey, end.conductors[-1])
            if survey.graph.component_of[node] == part][:1]


def _core(survey: Survey, conductor: str) -> list[int]:
    """Return both terminals of a conductor's positive core."""
    return [node for edge in survey.graph.edges_of.get(conductor, ()) if edge.core == "+"
            for node in (edge.b, edge.a)]
