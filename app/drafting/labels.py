"""Edits of lettering: put somewhere by hand, or let go again."""

from __future__ import annotations

from app.drawing.labels import middle_of
from app.drawing.marks import Point
from app.drawing.sheet import SheetDrawing
from app.words import _
from model.diagram import Diagram
from model.edits import Edit, changed, setting


def label_edit(diagram: Diagram, drawing: SheetDrawing, item: str, step: Point) -> Edit:
    """Return the edit that moves an item's lettering by a step and keeps it there."""
    first = drawing.labels[item].texts[0]
    if item in diagram.components:
        value = diagram.components[item]
        origin = value.at or (0.0, 0.0)
    else:
        value = diagram.conductors[item]  # type: ignore[assignment]
        origin = middle_of(drawing.paths[item])
    offset = (first.x + step[0] - origin[0], first.y + step[1] - origin[1])
    return setting(
        diagram, _("Move label of {what}").format(what=item), changed(value, label_at=offset))


def label_freed_edit(diagram: Diagram, items: frozenset[str]) -> Edit:
    """Return the edit that lets the program place the lettering again."""
    values = [
        changed(value, label_at=None)
        for collection in (diagram.components, diagram.conductors)
        for item, value in collection.items() if item in items
    ]
    return setting(diagram, _("Place labels anew"), *values)
