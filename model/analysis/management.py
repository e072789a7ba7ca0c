"""Lithium batteries and what their management opens: its contactors, or the battery itself."""

from __future__ import annotations

from collections.abc import Mapping

from model.analysis.banks import off_position
from model.diagram import Component, Diagram
from model.graph import TerminalGraph
from model.kinds.storage import LITHIUM

Roles = Mapping[str, str]
# The unit's own limit for each limit of the battery that it may keep.
UNIT_LIMITS = {"max_charge_a": "charge_limit_a", "max_discharge_a": "discharge_limit_a"}


def lithium_batteries(diagram: Diagram) -> list[Component]:
    """Return the lithium batteries in service."""
    return [part for part in diagram.components.values()
            if part.kind == "battery_bank" and part.stored is not True
            and part.parameters.get("chemistry") in LITHIUM]


def stated_limit(diagram: Diagram, battery: Component, field: str) -> float | None:
    """Return a limit of a battery, the one its external unit keeps where it states none itself."""
    own: float | None = battery.parameters.get(field)
    unit = unit_of(diagram, battery)
    if own is not None or unit is None:
        return own
    return unit.parameters.get(UNIT_LIMITS.get(field, ""))


def unit_of(diagram: Diagram, battery: Component) -> Component | None:
    """Return the management unit of a battery; the boat's only one when none is named."""
    named = diagram.components.get(str(battery.parameters.get("management_unit", "")))
    units = [p for p in diagram.components.values() if p.kind == "battery_management_unit"]
    if named is None and battery.parameters.get("management") == "external" and len(units) == 1:
        return units[0]
    return named


def driven(diagram: Diagram, unit: Component) -> Roles:
    """Return the contactors a unit works, with what each is for: charge, load or both, "" when it
    is not said. What has no contact that a signal works is none.
    """
    found = {str(row["id"]): str(row.get("role", "")) for row in unit.parameters.get("drives", ())}
    for part in diagram.components.values():
        if part.parameters.get("driven_by") == unit.id:
            found.setdefault(part.id, "")
    return {item: role for item, role in found.items() if item in diagram.components
            and _is_remote(diagram.components[item])}


def _is_remote(part: Component) -> bool:
    return part.kind in ("contactor", "relay") or (
        part.parameters.get("remote") in ("with_override", "without"))


def opened(graph: TerminalGraph, contactors: Roles, purpose: str = "") -> dict[str, str]:
    """Return the positions in which a unit's contactors stand open: all of them, or those that
    open for one purpose, "charge" or "load".
    """
    return {edge.handle: off_position(graph, edge) for item in contactors
            for edge in graph.edges_of.get(item, ()) if edge.handle is not None
            and (not purpose or contactors[item] in (purpose, "both", ""))}


def is_stopped(source: Component, battery: Component, unit: Component | None) -> bool:
    """Say whether the management of a battery stops a source before it opens."""
    stopping = {battery.id} if unit is None else {unit.id, battery.id}
    told = unit is not None and _names(unit, "stops", source)
    return told or bool(stopping & set(source.parameters.get("stops_on", ())))


def is_limited(source: Component, unit: Component) -> bool:
    """Say whether a unit limits what a source gives: it may go on giving at the limit."""
    return _names(unit, "limits", source)


def _names(unit: Component, field: str, source: Component) -> bool:
    """Say whether a list of a unit names a source or its regulator."""
    return bool({source.id, source.parameters.get("regulator")}
                & set(unit.parameters.get(field, ())))
