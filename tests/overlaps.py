"""What lies on what on a sheet: found with shapely's geometry on where the drawing puts things."""

from __future__ import annotations

import itertools
from collections.abc import Iterable

from shapely.geometry import LineString, box
from shapely.geometry.base import BaseGeometry

from app.drawing.fonts import text_box
from app.drawing.frame import drawing_area
from app.drawing.labels import SPEAKS_INSIDE
from app.drawing.places import place_name
from app.drawing.sheet import SheetDrawing
from model.diagram import Diagram

TOUCH_MM2, TOUCH_MM = 0.01, 0.05
Clash = tuple[str, str]
Shape = tuple[str, BaseGeometry]


def overlaps(diagram: Diagram, drawing: SheetDrawing) -> list[Clash]:
    """Return every pair of things of which one covers the other, and what leaves the frame."""
    return [*text_on_text(diagram, drawing), *text_on_part(diagram, drawing),
            *part_on_part(drawing), *text_on_line(diagram, drawing),
            *line_through_part(diagram, drawing), *line_on_line(diagram, drawing),
            *outside(diagram, drawing)]


def lettering(diagram: Diagram, drawing: SheetDrawing) -> list[Shape]:
    """Return the boxes of all lettering, of places too."""
    texts = [(item, box(*b.as_tuple())) for item, label in drawing.labels.items()
             for b in label.boxes()]
    places = [(place.id, box(*text_box(place_name(place)).as_tuple()))
              for place in diagram.places.values() if place.outline]
    return texts + places


def bodies(drawing: SheetDrawing) -> dict[str, BaseGeometry]:
    """Return the boxes of all parts."""
    return {item: box(*part.body.as_tuple()) for item, part in drawing.parts.items()}


def text_on_text(diagram: Diagram, drawing: SheetDrawing) -> list[Clash]:
    """Return lettering on lettering."""
    return [(a[0], b[0]) for a, b in itertools.combinations(lettering(diagram, drawing), 2)
            if a[0] != b[0] and a[1].intersection(b[1]).area > TOUCH_MM2]


def text_on_part(diagram: Diagram, drawing: SheetDrawing) -> list[Clash]:
    """Return lettering on parts, but for those that speak inside themselves."""
    return [(item, part) for item, text in lettering(diagram, drawing)
            for part, body in bodies(drawing).items()
            if text.intersection(body).area > TOUCH_MM2
            and not (item == part and diagram.components[part].kind in SPEAKS_INSIDE)]


def part_on_part(drawing: SheetDrawing) -> list[Clash]:
    """Return parts on parts."""
    return [(a[0], b[0]) for a, b in itertools.combinations(bodies(drawing).items(), 2)
            if a[1].intersection(b[1]).area > TOUCH_MM2]


def text_on_line(diagram: Diagram, drawing: SheetDrawing) -> list[Clash]:
    """Return lettering on conductors."""
    return [(item, wire) for item, text in lettering(diagram, drawing)
            for wire, path in drawing.paths.items() if LineString(path).intersects(text)]


def line_through_part(diagram: Diagram, drawing: SheetDrawing) -> list[Clash]:
    """Return conductors through parts that are not their own."""
    clashes = []
    for wire, path in drawing.paths.items():
        own = {end.component for end in diagram.conductors[wire].ends()}
        for part, body in bodies(drawing).items():
            inside = LineString(path).intersection(body.buffer(-0.3)).length
            if part not in own and inside > TOUCH_MM:
                clashes.append((wire, part))
    return clashes


def line_on_line(diagram: Diagram, drawing: SheetDrawing) -> list[Clash]:
    """Return conductors that lie on one another though they share no terminal."""
    lines = [(wire, _terminals(diagram, wire), LineString(path))
             for wire, path in drawing.paths.items()]
    return [(a[0], b[0]) for a, b in itertools.combinations(lines, 2)
            if not a[1] & b[1] and a[2].intersection(b[2]).length > TOUCH_MM]


def _terminals(diagram: Diagram, wire: str) -> set[tuple[str, str]]:
    return {(end.component, end.terminal) for end in diagram.conductors[wire].ends()}


def outside(diagram: Diagram, drawing: SheetDrawing) -> list[Clash]:
    """Return what does not lie inside the frame and above the title block."""
    area = box(*drawing_area(diagram.sheet).as_tuple())
    shapes: Iterable[Shape] = [
        *lettering(diagram, drawing), *bodies(drawing).items(),
        *((wire, LineString(path)) for wire, path in drawing.paths.items())]
    return [(item, "frame") for item, shape in shapes if not area.covers(shape)]
