"""What a device can break, and what it must: by its rating or class, and by the bank before it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Literal

from model.analysis.fault_margins import ON_THE_WAY
from model.analysis.reach import always_closed, reach, source_nodes
from model.analysis.starter import is_emergency_link
from model.graph import Edge
from model.kinds.storage import LITHIUM
from model.protection_tables import (
    Place,
    class_interrupts_a,
    large_bank,
    least_interrupt_a,
    needed_interrupt_a,
)
from model.tables import TableFigure

if TYPE_CHECKING:
    from model.analysis.device_sides import DeviceSide
    from model.survey import Survey

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


Verdict = Literal["breaks", "fails", "unrecorded", "missing"]


@dataclass(frozen=True, slots=True)
class Breaking:
    """How a device stands to the largest fault through it. [A].

    `is_main` says that from one side no device is before it. "unrecorded" is a lithium bank's
    device of which nothing tells what it breaks; "missing" hangs on the fields named.
    """

    side: DeviceSide
    batteries: tuple[str, ...]
    is_main: bool
    fault_a: float
    own: Interrupts | None
    verdict: Verdict
    missing: tuple[str, ...] = ()


def breakings(survey: Survey) -> tuple[Breaking, ...]:
    """Return how each device stands to the fault from its worse side."""
    worst: dict[str, DeviceSide] = {}
    survey.faults.strong.short(*(side.node for side in survey.device_sides))
    for side in survey.device_sides:
        known = worst.get(side.item)
        if known is None or through_a(survey, side) > through_a(survey, known):
            worst[side.item] = side
    found = (_breaking(survey, side) for side in worst.values())
    return tuple(one for one in found if one is not None)


def through_a(survey: Survey, side: DeviceSide) -> float:
    """Return the largest current of a device during a short at its own terminal. [A]."""
    return survey.faults.strong.through_a(side.edge.index, side.node)


def _breaking(survey: Survey, side: DeviceSide) -> Breaking | None:
    volts = survey.potentials[side.node].nominal_v
    fault_a = round(through_a(survey, side), 1)
    if volts is None or fault_a < 1:
        return None
    own = interrupts(side.edge.device, volts)
    batteries = feeding_batteries(survey, side)
    is_main = bool({side.edge.a, side.edge.b} & survey.unfused_reach)
    verdict, missing = _verdict(survey, side, batteries, is_main, fault_a, own, volts)
    return Breaking(side, batteries, is_main, fault_a, own, verdict, missing)


def _verdict(
    survey: Survey, side: DeviceSide, batteries: tuple[str, ...], is_main: bool, fault_a: float,
    own: Interrupts | None, volts: float,
) -> tuple[Verdict, tuple[str, ...]]:
    place: Place = "main" if is_main else "branch"
    least_a = least_interrupt_a() if own is None else own.low.value
    unsized = tuple(f"{b}.capacity_ah" for b in batteries
                    if survey.faults.resistances[b] == "unknown")
    if not unsized and (fault_a <= least_a or _in_series(survey, side, fault_a)):
        return "breaks", ()
    enough_a, asked = needed_a(survey, batteries, place, volts)
    if own is not None and enough_a is not None and own.low.value >= enough_a:
        return "breaks", ()
    if unsized and fault_a <= least_a:
        return "missing", unsized
    chemistries = {survey.diagram.components[b].parameters.get("chemistry") for b in batteries}
    if own is None:
        return ("unrecorded", ()) if chemistries & LITHIUM else (
            "missing", (f"{side.item}.interrupt_a",))
    if fault_a <= own.high.value:
        return "missing", (f"{side.item}.interrupt_a",)
    might_do = asked and own.low.value >= (needed_interrupt_a(volts, 0, place) or own.low).value
    unknown = (*survey.faults.unstated(batteries, side.edge.index, side.node),
               *(asked if might_do else ()))
    return ("missing", unknown) if unknown else ("fails", ())


def _in_series(survey: Survey, side: DeviceSide, fault_a: float) -> bool:
    """Say whether a device before it breaks the current and a series rating is recorded."""
    before = survey.diagram.components.get(side.edge.device.get("series_rating_with", ""))
    return before is not None and before.parameters.get("interrupt_a", 0) >= fault_a


def is_backed(survey: Survey, branch: Breaking) -> bool:
    """Say whether the main devices before a branch break what its fault drives through them."""
    for main in (one for one in survey.breakings if one.is_main):
        a = survey.faults.strong.through_a(main.side.edge.index, branch.side.node)
        if a > ON_THE_WAY * branch.fault_a and main.verdict != "breaks":
            return False
    return True


def feeding_batteries(survey: Survey, side: DeviceSide) -> tuple[str, ...]:
    """Return the batteries of the banks that feed a device as things usually stand."""
    node = side.edge.other(side.node)
    found = {battery for bank in survey.banks if node in survey.usual_reach[bank.id]
             for battery in bank.batteries}
    return tuple(sorted(found))


def usual_reach(survey: Survey) -> Mapping[str, frozenset[int]]:
    """Return the terminals each bank feeds without emergency links and voltage-sensing relays."""
    passes = usual_passes(survey)
    return {bank.id: frozenset(reach(survey.graph, bank.nodes, passes)) for bank in survey.banks}


def unfused_reach(survey: Survey) -> frozenset[int]:
    """Return the terminals that are fed as things usually stand with no device before them."""
    graph, passes = survey.graph, usual_passes(survey)
    starts = [node for battery in survey.zones for node in source_nodes(graph, battery)]
    return frozenset(reach(
        graph, starts, lambda edge, node: edge.role != "overcurrent" and passes(edge, node)))


def usual_passes(survey: Survey) -> Callable[[Edge, int], bool]:
    """Return the test of stiff reach without emergency links and voltage-sensing relays."""
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
    survey: Survey, batteries: tuple[str, ...], place: Place, nominal_v: float
) -> tuple[float | None, tuple[str, ...]]:
    """Return an interrupting rating that suffices whatever the computed fault current [A], and
    the fields without which the table cannot be asked.

    ABYC E-11: by the cranking rating of a lead bank, or by the maker's short-circuit figure for
    the main device of a large one. None when neither tells.
    """
    parts = {b: survey.diagram.components[b].parameters for b in batteries}
    large = large_bank()
    cranking_a = sum(p.get("cranking_a", 0.0) for p in parts.values())
    if place == "main" and (cranking_a > large.above_cranking_a or sum(
            p.get("capacity_ah", 0.0) for p in parts.values()) > large.above_ah):
        short_a = sum(p.get("short_circuit_a", float("inf")) for p in parts.values())
        return (short_a if short_a <= large.where_above_a else large.suffices_a), ()
    if not parts or any(p.get("chemistry") not in LEAD for p in parts.values()):
        return None, ()
    unknown = tuple(f"{b}.cranking_a" for b, p in parts.items() if "cranking_a" not in p)
    found = needed_interrupt_a(nominal_v, cranking_a, place)
    if unknown:
        return None, unknown if found is not None else ()
    return (None if found is None else found.value), ()


def is_of_lithium(one: Breaking, survey: Survey) -> bool:
    """Say whether only lithium batteries drive the fault through a device."""
    return all(survey.diagram.components[battery].parameters.get("chemistry") in LITHIUM
               for battery in one.batteries)
