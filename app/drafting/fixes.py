"""Edits that know nothing of the sheet, drawn: new parts get a place, loose conductors a path.

A fix of the rule book says what to fit and where electrically; here it finds room on the sheet,
on the line it is fitted into or beside its neighbours.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from app.drafting.parts import routed, turn_along
from app.drawing.conductors import is_drawn
from app.drawing.ground import Ground
from app.drawing.marks import Box, Point
from app.drawing.placing import PlacedPart, placed_part, placed_parts
from app.drawing.routing import legs, snapped
from model.diagram import Component, Conductor, Diagram, SheetPath
from model.edits import Edit, apply, merge, setting

STEP_MM = 2.5
NEAR_MM = 10.0  # from the end a device is fitted at to its middle
CLEAR_MM = 4.0
FARTHEST_MM = 150.0


def drawn_edit(diagram: Diagram, edit: Edit) -> Edit:
    """Return the edit with places for its new parts and paths for what it joins.

    Unchanged when the diagram has no places itself: it is laid out as a whole when shown.
    """
    if all(component.at is None for component in diagram.components.values()):
        return edit
    after = apply(diagram, edit)
    for change in edit.changes:
        if isinstance(change.after, Component) and change.before is None:
            placed = _placed(diagram, after, change.after)
            after, edit = _with(after, edit, [placed])
    parts = placed_parts(after)
    for change in edit.changes:
        wire = after.conductors.get(change.id)
        if change.collection == "conductors" and wire is not None and wire.path is None \
                and is_drawn(wire, parts):
            pathed = wire.replaced(path=SheetPath(points=routed(after, parts, wire)))
            after, edit = _with(after, edit, [pathed])
    return edit


def _with(
    diagram: Diagram, edit: Edit, values: Iterable[Component | Conductor]
) -> tuple[Diagram, Edit]:
    more = setting(diagram, edit.label, *values)
    return apply(diagram, more), merge(edit, more)


def _placed(before: Diagram, after: Diagram, component: Component) -> Component:
    """Return the new part where it fits best: on the line it was fitted into, else near by."""
    if component.at is not None:
        return component
    parts = placed_parts(after)
    ground = _taken(parts)
    for spot in (*_on_the_line(before, after, component), *_near(parts, after, component)):
        body = _body(spot)
        if body is not None and ground.taken_mm2(body.grown(CLEAR_MM)) == 0:
            return spot
    return component


def _taken(parts: Mapping[str, PlacedPart]) -> Ground:
    ground = Ground()
    for part in parts.values():
        ground.take(part.body)
    return ground


def _body(component: Component) -> Box | None:
    part = placed_part(component)
    return None if part is None else part.body


def _on_the_line(before: Diagram, after: Diagram, component: Component) -> Iterable[Component]:
    """Yield places along the old line of the conductor that was cut, from the near end on."""
    for wire in after.conductors.values():
        old = before.conductors.get(wire.id)
        if old is None or old.path is None or wire == old:
            continue
        for side, other in ((wire.start, old.start), (wire.finish, old.finish)):
            if side.component == component.id and other.component != component.id:
                points = old.path.points if other is old.start else old.path.points[::-1]
                yield from _along(component, points)


def _along(component: Component, points: tuple[Point, ...]) -> Iterable[Component]:
    walked = 0.0
    for (ax, ay), (bx, by) in legs(points):
        length = abs(bx - ax) + abs(by - ay)
        at = max(NEAR_MM - walked, 0.0)
        while at <= length and length:
            share = at / length
            x, y = snapped(ax + (bx - ax) * share), snapped(ay + (by - ay) * share)
            yield component.replaced(at=(x, y), turn=turn_along(bx - ax, by - ay))
            at += STEP_MM
        walked += length


def _near(
    parts: Mapping[str, PlacedPart], after: Diagram, component: Component
) -> Iterable[Component]:
    """Yield places round the part's first neighbour, nearer ones first."""
    middle = next((_middle(parts[end]) for end in _neighbours(after, component.id)
                   if end in parts), None)
    if middle is None:
        return
    rings = int(FARTHEST_MM / (2 * STEP_MM))
    for ring in range(1, rings):
        reach = ring * 2 * STEP_MM
        for dx, dy in ((0, 1), (1, 0), (-1, 0), (0, -1), (1, 1), (-1, 1), (1, -1), (-1, -1)):
            at = (snapped(middle[0] + dx * reach), snapped(middle[1] + dy * reach))
            yield component.replaced(at=at)


def _middle(part: PlacedPart) -> Point:
    return ((part.body.x0 + part.body.x1) / 2, (part.body.y0 + part.body.y1) / 2)


def _neighbours(diagram: Diagram, item: str) -> Iterable[str]:
    for wire in diagram.conductors.values():
        ends = [end.component for end in wire.ends()]
        if item in ends:
            yield from (end for end in ends if end != item)
