"""A piece of a diagram by itself: the chosen parts, what is in their rows, what joins them."""

from __future__ import annotations

from collections.abc import Iterable

from app.drawing.marks import Mark, bounds, flat, moved
from app.drawing.sheet import sheet_drawing
from model.diagram import Diagram

MARGIN_MM = 4.0


def excerpt(diagram: Diagram, items: Iterable[str]) -> Diagram:
    """Return a diagram of nothing but the chosen parts and the conductors between them."""
    chosen = set(items) & set(diagram.components)
    chosen |= {part.id for part in diagram.components.values()
               if part.row_of is not None and part.row_of.partition(".")[0] in chosen}
    gone = set(diagram.components) - chosen
    wires = {wire.id for wire in diagram.conductors.values()
             if {end.component for end in wire.ends()} & gone}
    return diagram.replaced(
        components=diagram.components.with_items((item, None) for item in gone),
        conductors=diagram.conductors.with_items((item, None) for item in wires),
        modes=type(diagram.modes)(), places=type(diagram.places)(),
        systems=type(diagram.systems)(), acceptances=type(diagram.acceptances)())


def excerpt_marks(
    diagram: Diagram, items: Iterable[str]
) -> tuple[tuple[Mark, ...], tuple[float, float]]:
    """Return the drawing of an excerpt with its corner at the origin, and its size. [mm]."""
    drawing = sheet_drawing(excerpt(diagram, items))
    marks = drawing.marks()
    box = bounds(marks)
    if box is None:
        return (), (MARGIN_MM, MARGIN_MM)
    for lettering in (ground for label in drawing.labels.values() for ground in label.boxes()):
        box = box.joined(lettering)
    box = box.grown(MARGIN_MM)
    return tuple(moved(mark, -box.x0, -box.y0) for mark in flat(marks)), (box.w, box.h)
