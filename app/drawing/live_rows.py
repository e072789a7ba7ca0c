"""Panels when operating: a band on the bus and on each live row; dead rows step back."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from app.drawing.bands import LiveLook, band_marks, dead_marks, ring_marks
from app.drawing.fonts import text_box
from app.drawing.marks import Box, Mark, Point, Text, bounds, flat, line, moved
from app.drawing.placing import PlacedPart, row_box
from app.drawing.symbols.panels import AC, BUS_MM, DC, FIRST_ROW_MM, HEADER_MM
from model.diagram import Diagram

PANELS = ("panel", "fuse_block", "ac_panel")
ROW_BAND_MM, BUS_BAND_MM = 1.7, 3.4
LINE_MM = 0.35
DEVICE_MM = 9.4  # from the bus to the end of a way's device


def live_rows(
    diagram: Diagram, parts: Mapping[str, PlacedPart], live: Mapping[str, LiveLook]
) -> dict[str, list[Mark]]:
    """Return what is drawn over each panel: its bus and rows as they are live.

    Turned panels keep their plain rows: their lettering is not in rows either.
    """
    drawn: dict[str, list[Mark]] = {}
    for item, part in parts.items():
        if part.component.kind in PANELS and not part.component.turn and (
                not part.component.mirrored):
            drawn[item] = _bus(part, live.get(item, LiveLook()))
    for load in diagram.components.values():
        panel, _, way = (load.row_of or "").partition(".")
        if panel in drawn and way in parts[panel].ports:
            look = live.get(load.id, LiveLook())
            drawn[panel] += _row(parts[panel], way, look)
    return drawn


def _bus(part: PlacedPart, look: LiveLook) -> list[Mark]:
    x, y = part.group.x, part.group.y
    style = AC if part.component.kind == "ac_panel" else DC
    rows = [end.at[1] for end in part.ports.values() if end.direction == (1, 0)]
    foot = max(rows, default=y + FIRST_ROW_MM) + 2.0
    path: tuple[Point, Point] = ((x, y + HEADER_MM), (x, foot))
    if not look.letters:
        return []
    bar = line(*path[0], *path[1], BUS_MM, style.bar_role)
    top = ((x, y + HEADER_MM), (x, y + HEADER_MM + 9.0))
    return [*band_marks(path, look, BUS_BAND_MM), bar, *ring_marks(top, look)]


def _row(part: PlacedPart, way: str, look: LiveLook) -> list[Mark]:
    """Return a live row's band with its line on it, or the whole row in the dead roles."""
    box = row_box(part, way)
    own = [mark for mark in _on_sheet(part) if _is_in(mark, box)]
    if not look.letters:
        return list(dead_marks(own))
    y = part.ports[way].at[1]
    edge = _sign_edge(own, box)
    path = ((part.group.x + DEVICE_MM, y), (edge, y))
    style = AC if part.component.kind == "ac_panel" else DC
    over_band = [mark for mark in own if isinstance(mark, Text) and text_box(mark).x0 < edge]
    return [*band_marks(path, look, ROW_BAND_MM),
            line(*path[0], *path[1], LINE_MM, style.line_role), *over_band]


def _on_sheet(part: PlacedPart) -> Iterable[Mark]:
    return flat(moved(mark, part.group.x, part.group.y) for mark in part.group.marks)


def _is_in(mark: Mark, box: Box) -> bool:
    own = text_box(mark) if isinstance(mark, Text) else bounds([mark])
    return own is not None and own.x1 > box.x0 and box.holds(
        min(max(box.x0, (own.x0 + own.x1) / 2), box.x1), (own.y0 + own.y1) / 2) and own.h < 6.0


def _sign_edge(own: Iterable[Mark], box: Box) -> float:
    """Return where the row's line ends: at the load's sign, else at the panel's edge. [mm]."""
    ends = [found.x1 for mark in own if not isinstance(mark, Text)
            and (found := bounds([mark])) is not None and found.h == 0.0 and found.w > 5.0]
    return min(ends, default=box.x1)
