"""Symbols put on the sheet: turned, mirrored and moved, with ports and bodies in sheet mm."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import Any

from msgspec import Struct

from app.drawing.marks import Box, Group, Mark, Point, turned, turned_box, turned_point
from app.drawing.routing import RouteEnd
from app.drawing.symbols import symbol
from app.drawing.wording import length_text, size_text
from model.diagram import Component, Conductor, Diagram
from model.frozen_map import FrozenMap, freeze
from model.kinds import kind_of

ROW_HALF_MM = 2.4
ROW_ABOVE_MM, ROW_BELOW_MM = 3.0, 1.9  # figures stand over the line of a row
DEVICE_END_MM = 17.0  # from the panel's edge to the end of a way's breaker


class PlacedPart(Struct, frozen=True):
    """A part as it stands on the sheet."""

    component: Component
    group: Group
    body: Box
    ports: Mapping[str, RouteEnd]
    reserved: tuple[Box, ...]

    def port(self, port_id: str) -> RouteEnd:
        """Return where a port is; the middle of the body for one that is not drawn."""
        found = self.ports.get(port_id)
        if found is None:
            return RouteEnd(((self.body.x0 + self.body.x1) / 2, self.body.y1))
        return found


class _Turned(Struct, frozen=True):
    marks: tuple[Mark, ...]
    body: Box
    ports: tuple[tuple[str, Point, tuple[int, int]], ...]


def _shape(
    kind: str, parameters: FrozenMap[str, Any], positions: tuple[tuple[str, str], ...],
    turn: int, mirrored: bool,
) -> _Turned:
    drawn = symbol(kind, parameters, dict(positions))
    marks = tuple(turned(mark, turn, mirrored) for mark in drawn.marks)
    ports = []
    for port_id, place in drawn.ports.items():
        at = turned_point(place.x, place.y, turn, mirrored)
        dx, dy = turned_point(place.dx, place.dy, turn, mirrored)
        ports.append((port_id, at, (int(dx), int(dy))))
    return _Turned(marks, turned_box(drawn.body, turn, mirrored), tuple(ports))


# A panel's symbol is large, and another with each word in its rows: few of those are kept.
_turned_symbol = lru_cache(maxsize=2048)(_shape)
_turned_panel = lru_cache(maxsize=64)(_shape)


def placed_part(
    component: Component, positions: Mapping[str, str] | None = None,
    drawn: FrozenMap[str, Any] | None = None,
) -> PlacedPart | None:
    """Return the part on the sheet, or None when it has no place there.

    `positions` are handle ids of the whole diagram ("P1.w3"); `drawn` stands in for the
    parameters where the sheet writes more than they hold (the rows of a panel).
    """
    if component.at is None or component.row_of is not None:
        return None
    own = own_positions(component, positions or {})
    parameters = component.parameters if drawn is None else drawn
    shaped = _turned_symbol if drawn is None else _turned_panel
    shape = shaped(
        component.kind, parameters, tuple(sorted(own.items())), component.turn, component.mirrored
    )
    x, y = component.at
    ports = {
        port_id: RouteEnd((at[0] + x, at[1] + y), direction)
        for port_id, at, direction in shape.ports
    }
    body = shape.body.moved(x, y)
    return PlacedPart(component, Group(shape.marks, x, y), body, ports, (body,))


def own_positions(component: Component, positions: Mapping[str, str]) -> dict[str, str]:
    """Return the positions of the component's own handles by their short ids."""
    own = {}
    for handle in kind_of(component).handles(component.parameters):
        key = f"{component.id}.{handle.id}" if handle.id else component.id
        own[handle.id] = positions.get(key, handle.normal)
    return own


def placed_parts(
    diagram: Diagram, positions: Mapping[str, str] | None = None
) -> dict[str, PlacedPart]:
    """Return every part that has a place on the sheet, by id."""
    rows = panel_rows(diagram)
    placed = {}
    for component in diagram.components.values():
        part = placed_part(component, positions, rows.get(component.id))
        if part is not None:
            placed[component.id] = part
    return placed


def panel_rows(diagram: Diagram) -> dict[str, FrozenMap[str, Any]]:
    """Return, for each panel with loads drawn in its rows, parameters that name them."""
    loads = [c for c in diagram.components.values() if c.row_of is not None]
    if not loads:
        return {}
    feeds = _feeds(diagram)
    rows: dict[str, dict[str, tuple[str, str, str, str]]] = {}
    for load in loads:
        panel, _, way = (load.row_of or "").partition(".")
        wire = feeds.get((panel, way, load.id))
        size = "" if wire is None else size_text(wire.size)
        length = "" if wire is None else length_text(wire.length_m, diagram.boat.length_unit)
        ways = rows.setdefault(panel, {})
        name = load.name or load.id
        if way in ways:
            name = f"{ways[way][0]}, {name}"
        ways[way] = (name, _row_sign(load), size, length)
    return {
        panel: _with_rows(diagram.components[panel].kind, diagram.components[panel].parameters,
                          FrozenMap(ways))
        for panel, ways in rows.items() if panel in diagram.components
    }


def _row_sign(load: Component) -> str:
    """Return the role or kind whose family sign stands in the row; what heats is told so."""
    if load.parameters.get("heater"):
        return "heater"
    return str(load.parameters.get("role", load.kind))


@lru_cache(maxsize=64)
def _with_rows(
    kind: str, parameters: FrozenMap[str, Any],
    rows: FrozenMap[str, tuple[str, str, str, str]],
) -> FrozenMap[str, Any]:
    """Return a panel's parameters with what its rows say.

    A panel with a drawn width says no more than fits: first lengths go, then sizes.
    """
    widest = parameters.get("width_mm")
    for note in (lambda size, length: f"{size} {length}".strip(),
                 lambda size, _length: size, lambda _size, _length: ""):
        told = []
        for way in parameters.get("ways", ()):
            row = rows.get(way["id"])
            if row is None:
                told.append(dict(way))
                continue
            name, role, size, length = row
            told.append({**way, "label": name, "role": role, "note": note(size, length)})
        frozen: FrozenMap[str, Any] = freeze({**parameters, "ways": told})
        if widest is None or symbol(kind, frozen, {}).body.w <= widest:
            break
    return frozen


def row_boxes(diagram: Diagram, parts: Mapping[str, PlacedPart]) -> dict[str, Box]:
    """Return where loads in panel rows, and their conductors, stand: past the row's device."""
    boxes = {}
    for load in diagram.components.values():
        panel, _, way = (load.row_of or "").partition(".")
        if panel in parts and way in parts[panel].ports:
            boxes[load.id] = row_box(parts[panel], way)
    for wire in diagram.conductors.values():
        inside = [end.component for end in wire.ends() if end.component in boxes]
        if inside:
            boxes[wire.id] = boxes[inside[0]]
    return boxes


def row_box(panel: PlacedPart, way: str) -> Box:
    """Return the ground of a row from its device's end to the panel's edge."""
    body, (x, y) = panel.body, panel.ports[way].at
    if panel.component.turn % 180:
        return Box(x - ROW_HALF_MM, body.y0, x + ROW_HALF_MM, body.y1)
    if abs(x - body.x0) < abs(x - body.x1):
        return Box(body.x0, y - ROW_ABOVE_MM, body.x1 - DEVICE_END_MM, y + ROW_BELOW_MM)
    return Box(body.x0 + DEVICE_END_MM, y - ROW_ABOVE_MM, body.x1, y + ROW_BELOW_MM)


def _feeds(diagram: Diagram) -> dict[tuple[str, str, str], Conductor]:
    """Return conductors from a panel way to a load, by (panel, way, load)."""
    found = {}
    for wire in diagram.conductors.values():
        for a, b in (wire.ends(), wire.ends()[::-1]):
            found[(a.component, a.terminal, b.component)] = wire
    return found
