"""Loads that are drawn as a row of their panel: a symbol of their own would only repeat it."""

from __future__ import annotations

from app.drawing.labels import PANELS
from model.diagram import Component, Conductor, Diagram
from model.edits import changed
from model.frozen_map import FrozenMap
from model.kinds import kind_of


def with_rows(diagram: Diagram) -> FrozenMap[str, Component]:
    """Return the components; unplaced loads on nothing but a panel's way stand in its row."""
    found: dict[str, list[Conductor]] = {}
    for wire in diagram.conductors.values():
        for end in wire.ends():
            found.setdefault(end.component, []).append(wire)
    rows = {}
    for component in diagram.components.values():
        if component.at is None and component.row_of is None and kind_of(component).role == "load":
            way = _way_of(diagram, component, found.get(component.id, []))
            if way is not None:
                rows[component.id] = changed(component, row_of=way)
    return diagram.components.with_items(rows.items())


def _way_of(diagram: Diagram, load: Component, wires: list[Conductor]) -> str | None:
    """Return the panel's way that alone feeds a load, as "P1.w3"."""
    if len(wires) != 1:
        return None
    other = next((end for end in wires[0].ends() if end.component != load.id), None)
    if other is None or diagram.components[other.component].kind not in PANELS:
        return None
    ways = diagram.components[other.component].parameters.get("ways") or ()
    if not any(way["id"] == other.terminal for way in ways):
        return None
    return f"{other.component}.{other.terminal}"
