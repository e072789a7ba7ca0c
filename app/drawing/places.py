"""Places aboard as tinted outlines; the edge tells the kind without colour."""

from __future__ import annotations

from collections.abc import Sequence

from app.drawing.marks import Mark, Path, Point, Text, line
from model.diagram import Place

_SORTS = {
    "engine_space": "engine", "petrol_engine_space": "engine", "machinery": "engine",
    "deck": "outdoors", "bilge": "bilge", "petrol_tank_space": "bilge",
}
_EDGES: dict[str, tuple[float, tuple[float, ...]]] = {
    "engine": (0.25, ()), "dry": (0.18, ()), "outdoors": (0.3, (5.0, 1.0, 0.8, 1.0)),
    "bilge": (0.4, (0.4, 1.0)),
}
NAME_MM = 2.9
TICK_MM = 2.0


def place_sort(place: Place) -> str:
    """Return engine, dry, outdoors or bilge: how a place is tinted."""
    return _SORTS.get(place.environment or "", "dry")


def place_marks(place: Place) -> list[Mark]:
    """Return the marks of a place that has an outline."""
    outline = place.outline or ()
    sort = place_sort(place)
    width, dash = _EDGES[sort]
    marks: list[Mark] = [
        Path(outline, f"{sort}_edge", width, dash, closed=True, fill=f"{sort}_tint")]
    if sort == "engine":
        marks += _ticks(outline)
    marks.append(place_name(place))
    return marks


def place_name(place: Place) -> Text:
    """Return a place's name: afloat in italics, ashore upright."""
    sort = place_sort(place)
    outline = place.outline or ((0.0, 0.0),)
    x, y = place.name_at or (min(p[0] for p in outline) + 4, min(p[1] for p in outline) + 6)
    face = "oblique" if sort in ("outdoors", "bilge") else "book"
    return Text(x, y, place.name.upper(), NAME_MM, f"{sort}_name", face,  # type: ignore[arg-type]
                spacing_mm=0.22 * NAME_MM * 0.5)


def _ticks(outline: Sequence[Point]) -> list[Mark]:
    """Return slanted ticks inside the left and the top edge."""
    x0, y0 = min(p[0] for p in outline), min(p[1] for p in outline)
    x1, y1 = max(p[0] for p in outline), max(p[1] for p in outline)
    marks: list[Mark] = []
    y = y0 + 2 * TICK_MM
    while y < y1:
        marks.append(line(x0, y, x0 + 1.4, y - 1.4, 0.18, "engine_edge"))
        y += TICK_MM
    x = x0 + TICK_MM
    while x < x1 - 1.4:
        marks.append(line(x, y0 + 1.4, x + 1.4, y0, 0.18, "engine_edge"))
        x += TICK_MM
    return marks
