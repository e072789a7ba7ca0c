"""What a device can break, and what it must: by its rating or class, and by the bank before it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from model.analysis.reach import always_closed, reach, source_nodes
from model.analysis.starter import is_emergency_link
from model.graph import Edge
from model.protection_tables import class_interrupts_a, large_bank, needed_interrupt_a
from model.tables import TableFigure

if TYPE_CHECKING:
    from model.analysis.device_sides import DeviceSide
    from model.survey import Survey

LITHIUM = frozenset({"lfp", "other_lithium"})
LEAD = frozenset({"flooded", "agm", "gel"})


@dataclass(frozen=True, slots=True)
class Interrupts:
    """What a device breaks at least and at most; equal when its own rating is stated. [A]."""

    low: TableFigure
    high: TableFigure


def interrupts(device: Mapping[str, Any], nominal_v: float) -> Interrupts | None:
    """Return what a device breaks on a system of these volts, None when nothing tells.

    A figure of the device's own has no source. A rating stated for fewer volts tells nothing here.
    """
    stated, at_v = device.get("interrupt_a"), device.get("interrupt_at_v")
    if stated is not None and (at_v is None or at_v >= nominal_v):
        own = TableFigure(float(stated), "", True)
        return Interrupts(own, own)
    by_class = class_interrupts_a(device.get("class", ""), nominal_v)
    return None if by_class is None else Interrupts(by_class.low, by_class.high)


def worst_sides(survey: Survey) -> tuple[DeviceSide, ...]:
    """Return each device from the side from which the larger fault goes through it."""
    worst: dict[str, DeviceSide] = {}
    for side in survey.device_sides:
        known = worst.get(side.item)
        if known is None or through_a(survey, side) > through_a(survey, known):
            worst[side.item] = side
    return tuple(worst.values())


def through_a(survey: Survey, side: DeviceSide) -> float:
    """Return the largest current of a device during a short at its own terminal. [A]."""
    return survey.faults.strong.through_a(side.edge.index, side.node)


def feeding_batteries(survey: Survey, side: DeviceSide) -> tuple[str, ...]:
    """Return the batteries of the banks that feed a device as things usually stand."""
    node = side.edge.other(side.node)
    found = {battery for bank in survey.banks if node in survey.usual_reach[bank.id]
             for battery in bank.batteries}
    return tuple(sorted(found))


def usual_reach(survey: Survey) -> Mapping[str, frozenset[int]]:
    """Return the terminals each bank feeds without emergency links and voltage-sensing relays."""
    passes = _passes(survey)
    return {bank.id: frozenset(reach(survey.graph, bank.nodes, passes)) for bank in survey.banks}


def unfused_reach(survey: Survey) -> frozenset[int]:
    """Return the terminals that are fed as things usually stand with no device before them."""
    graph, passes = survey.graph, _passes(survey)
    starts = [node for battery in survey.zones for node in source_nodes(graph, battery)]
    return frozenset(reach(
        graph, starts, lambda edge, node: edge.role != "overcurrent" and passes(edge, node)))


def _passes(survey: Survey) -> Callable[[Edge, int], bool]:
    graph = survey.graph

    def passes(edge: Edge, node: int) -> bool:
        if not always_closed(edge, node):
            return False
        if edge.role != "contact":
            return True
        kind = graph.diagram.components[edge.owner].kind
        return kind != "voltage_sensing_relay" and not is_emergency_link(graph, edge.owner)

    return passes


def needed_a(
    survey: Survey, side: DeviceSide, batteries: tuple[str, ...], nominal_v: float
) -> float | None:
    """Return an interrupting rating that suffices whatever the computed fault current. [A]

    ABYC E-11: by the cranking rating of a lead bank, or by the maker's short-circuit figure of a
    large one. None when neither tells.
    """
    parts = [survey.diagram.components[b].parameters for b in batteries]
    is_main = side.edge.other(side.node) in survey.unfused_reach
    large = large_bank()
    cranking = [p.get("cranking_a") for p in parts]
    cranking_a = sum(a for a in cranking if a is not None)
    if cranking_a > large.above_cranking_a or (
            sum(p.get("capacity_ah", 0.0) for p in parts) > large.above_ah):
        short_a = sum(p.get("short_circuit_a", float("inf")) for p in parts)
        if not is_main:
            return None
        return short_a if short_a <= large.where_above_a else large.suffices_a
    if None in cranking or not parts or any(p.get("chemistry") not in LEAD for p in parts):
        return None
    found = needed_interrupt_a(nominal_v, cranking_a, "main" if is_main else "branch")
    return None if found is None else found.value
