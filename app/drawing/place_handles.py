"""Where a place can be taken hold of: its name, its edges, and the handles of a rectangle."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from msgspec import Struct

from app.drawing.labels import text_box
from app.drawing.marks import Box, Point
from app.drawing.places import place_name
from model.diagram import Place


class PlacedPlace(Struct, frozen=True):
    """A place as it lies on the sheet: its outline and the ground of its name."""

    outline: tuple[Point, ...]
    name: Box | None

    def is_on_edge(self, at: Point, reach_mm: float) -> bool:
        """Say whether a point lies on the name or near the outline."""
        if self.name is not None and self.name.holds(*at):
            return True
        x, y = at
        return any(
            min(ax, bx) - reach_mm <= x <= max(ax, bx) + reach_mm
            and min(ay, by) - reach_mm <= y <= max(ay, by) + reach_mm
            for (ax, ay), (bx, by) in pairwise((*self.outline, self.outline[0])))


def placed_place(place: Place) -> PlacedPlace:
    """Return a place that has an outline as it lies on the sheet."""
    return PlacedPlace(place.outline or (), text_box(place_name(place)) if place.name else None)


def outline_box(outline: Sequence[Point]) -> Box:
    """Return the box round an outline."""
    xs, ys = zip(*outline, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def handles(outline: Sequence[Point]) -> tuple[Point, ...]:
    """Return the corners and the middles of the edges of a rectangle; nothing for other shapes."""
    box = outline_box(outline)
    corners = ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1))
    if set(outline) != set(corners):
        return ()
    middles = tuple(((ax + bx) / 2, (ay + by) / 2)
                    for (ax, ay), (bx, by) in pairwise((*corners, corners[0])))
    return (*corners, *middles)
