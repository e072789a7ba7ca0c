"""Places for a few parts among those that have theirs, each near what it is joined to."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from app.drawing.frame import ground_box
from app.drawing.ground import Ground
from app.drawing.labels import SPEAKS_INSIDE
from app.drawing.marks import Box, Point
from app.drawing.placing import PlacedPart, panel_rows, placed_part
from app.drawing.routing import RouteEnd, snapped
from app.drawing.sheet import SheetDrawing, sheet_drawing
from app.drawing.tidy.columns import LABEL_GAP_MM, lettering_mm
from app.drawing.tidy.paper import LARGER
from app.drawing.tidy.standing import Line, drawn_lines, standing_parts
from model.diagram import Component, Diagram
from model.edits import changed

APART_MM, STEP_MM, AIR_MM = 12.5, 5.0, 3.0


def among(diagram: Diagram, loose: Iterable[Component]) -> tuple[str, list[Component]]:
    """Return places for the loose parts, and the paper they need."""
    drawn = {item: c for item, c in diagram.components.items() if c.row_of is None}
    lines = drawn_lines(diagram, drawn)
    rows = panel_rows(diagram)
    shapes = standing_parts(drawn, lines, rows)
    drawing = sheet_drawing(diagram)
    ground, parts = _taken(drawing), dict(drawing.parts)
    size: str = diagram.sheet.size
    waiting = {c.id for c in loose}
    found = []
    while waiting:
        item = min(waiting, key=lambda one: (-_ties(one, lines, parts), one))
        waiting.discard(item)
        size, spot = _spot(shapes[item], _ideal(shapes[item], lines, parts), ground, size)
        component: Component = changed(shapes[item].component, at=spot)
        part = placed_part(component, None, rows.get(item))
        assert part is not None
        parts[item] = part
        ground.take(_box(shapes[item]).moved(*spot))
        found.append(component)
    return size, found


def _taken(drawing: SheetDrawing) -> Ground:
    ground = Ground()
    for part in drawing.parts.values():
        ground.take(part.body)
    for label in drawing.labels.values():
        for box in label.boxes():
            ground.take(box)
    for path in drawing.paths.values():
        ground.take_line(path, 1.0)
    return ground


def _ties(item: str, lines: Iterable[Line], parts: Mapping[str, PlacedPart]) -> int:
    """Return how many conductors lead to parts that stand already."""
    return sum(any(end[0] == item for end in line.ends) and any(
        end[0] in parts for end in line.ends) for line in lines)


def _ideal(
    shape: PlacedPart, lines: Iterable[Line], parts: Mapping[str, PlacedPart]
) -> Point | None:
    """Return where the part would stand best: the mean of what its neighbours would say."""
    wanted = []
    for line in lines:
        for own, other in (line.ends, line.ends[::-1]):
            if own[0] == shape.component.id and other[0] in parts:
                wanted.append(_beside(shape.port(own[1]), parts[other[0]].port(other[1])))
    if not wanted:
        return None
    return (sum(x for x, _ in wanted) / len(wanted), sum(y for _, y in wanted) / len(wanted))


def _beside(own: RouteEnd, other: RouteEnd) -> Point:
    """Return the origin at which the own port faces the other one across a gap."""
    dx, dy = other.direction if other.direction != (0, 0) else (
        -own.direction[0], -own.direction[1])
    return (other.at[0] + dx * APART_MM - own.at[0], other.at[1] + dy * APART_MM - own.at[1])


def _spot(
    shape: PlacedPart, ideal: Point | None, ground: Ground, size: str
) -> tuple[str, Point]:
    """Return the free spot nearest to the ideal one, on larger paper where there is none."""
    box = _box(shape)
    while True:
        inside = ground_box(size)
        aim = ideal or (inside.x0 + inside.w / 2, inside.y1)
        free = [spot for spot in _spots(box, inside, aim)
                if ground.is_free(box.moved(*spot).as_tuple())]
        if free:
            return size, min(free, key=lambda at: math.dist(at, aim))
        if size not in LARGER:
            return size, (snapped(inside.x1 + 20.0), snapped(aim[1]))
        size = LARGER[size]


def _spots(box: Box, inside: Box, aim: Point) -> Iterable[Point]:
    """Yield every origin at which the box lies inside, in steps from the aim."""
    for i in range(math.ceil((inside.x0 - box.x0 - aim[0]) / STEP_MM),
                   math.floor((inside.x1 - box.x1 - aim[0]) / STEP_MM) + 1):
        for j in range(math.ceil((inside.y0 - box.y0 - aim[1]) / STEP_MM),
                       math.floor((inside.y1 - box.y1 - aim[1]) / STEP_MM) + 1):
            yield (snapped(aim[0] + i * STEP_MM), snapped(aim[1] + j * STEP_MM))


def _box(shape: PlacedPart) -> Box:
    """Return the ground a part at the origin wants, its lettering at the right."""
    body = shape.body.grown(AIR_MM)
    if shape.component.kind in SPEAKS_INSIDE:
        return body
    return Box(body.x0, body.y0, body.x1 + LABEL_GAP_MM + lettering_mm(shape, False), body.y1)
