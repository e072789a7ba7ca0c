"""What fits on which paper: drafts of a whole sheet, the airiest first."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from app.drawing.frame import ground_box
from app.drawing.marks import Box
from app.drawing.route_prices import GRID_MM
from app.drawing.tidy.columns import Room, columned
from app.drawing.tidy.draft import Draft, Plan, planned
from model.diagram import Component, Diagram

LARGER: Mapping[str, str] = {"A4": "A3", "A3": "A2", "Letter": "Tabloid", "Tabloid": "A2"}
MARGIN_MM = 5.0
LEAST_ROW_MM = 22.0  # what a row and the gap to the next need at least
WIDE = (Room(1.6), Room(1.3), Room(1.0), Room(1.0, slim=True), Room(0.6, slim=True))
HIGH = (1.6, 1.4, 1.2, 1.0, 0.85)  # how much air between rows
ENDLESS, PLANS = 10_000, 4


def drafts(diagram: Diagram, drawn: Mapping[str, Component]) -> Iterable[tuple[str, Draft]]:
    """Yield drafts with the paper they fit on; the last one comes whether it fits or not.

    What is too high is planned again with fewer rows; then larger paper is taken.
    """
    size: str = diagram.sheet.size
    while True:
        yield from ((size, draft) for draft in _on_paper(diagram, drawn, ground_box(size)))
        if size not in LARGER:
            break
        size = LARGER[size]
    plan = planned(diagram, drawn, ENDLESS)
    columns = columned(plan.net, plan.rows, WIDE[-1], ENDLESS)
    assert columns is not None
    yield size, plan.draft(columns, HIGH[-1]).moved(30.0, 30.0)


def _on_paper(
    diagram: Diagram, drawn: Mapping[str, Component], ground: Box
) -> Iterable[Draft]:
    inside = ground.grown(-MARGIN_MM)
    most_rows = int(inside.h // LEAST_ROW_MM)
    for _ in range(PLANS):
        plan = planned(diagram, drawn, most_rows)
        too_high = 0.0
        for draft in _in_columns(plan, inside.w):
            too_high = draft.height_mm - inside.h
            if too_high <= 0:
                yield draft.moved(inside.x0 + _half(inside.w - draft.width_mm),
                                  inside.y0 + _half(-too_high))
                break
        if too_high <= 0:
            return
        most_rows = len(plan.rows) - math.ceil(too_high / LEAST_ROW_MM)


def _in_columns(plan: Plan, most_mm: float) -> Iterable[Draft]:
    """Yield the drafts of a plan in its widest columns that fit, lower and lower."""
    for room in WIDE:
        columns = columned(plan.net, plan.rows, room, most_mm)
        if columns is not None:
            yield from (plan.draft(columns, air) for air in HIGH)
            return


def _half(spare_mm: float) -> float:
    return math.floor(spare_mm / 2 / GRID_MM) * GRID_MM
