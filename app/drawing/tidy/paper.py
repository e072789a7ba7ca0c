"""What fits on which paper: drafts of a whole sheet, the airiest first."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from app.drawing.frame import ground_box
from app.drawing.marks import Box
from app.drawing.route_prices import GRID_MM
from app.drawing.tidy.columns import Room, columned, least_width_mm
from app.drawing.tidy.draft import Draft, Plan, least_height_mm, netted, planned
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
    plans: dict[object, Plan] = {}
    while True:
        for draft in _on_paper(diagram, drawn, ground_box(size), plans):
            yield size, draft
        if size not in LARGER:
            break
        size = LARGER[size]
    plan = planned(netted(diagram, drawn, ENDLESS))
    columns = columned(plan.net, plan.rows, WIDE[-1], ENDLESS)
    assert columns is not None
    yield size, plan.draft(columns, HIGH[-1]).moved(30.0, 30.0)


def _on_paper(
    diagram: Diagram, drawn: Mapping[str, Component], ground: Box, plans: dict[object, Plan]
) -> Iterable[Draft]:
    """Yield the drafts that fit; `plans` remembers what was planned for other paper."""
    inside = ground.grown(-MARGIN_MM)
    most_rows = int(inside.h // LEAST_ROW_MM)
    for _ in range(PLANS):
        net = netted(diagram, drawn, most_rows)
        if max(least_width_mm(net, row) for row in net.rows) > inside.w:
            return
        too_high = HIGH[-1] * least_height_mm(net) - inside.h
        if too_high <= 0:
            if net.rows not in plans:
                plans[net.rows] = planned(net)
            for draft in _in_columns(plans[net.rows], inside.w):
                too_high = draft.height_mm - inside.h
                if too_high <= 0:
                    yield draft.moved(inside.x0 + _half(inside.w - draft.width_mm),
                                      inside.y0 + _half(-too_high))
                    return
            if too_high <= 0:
                return
        most_rows = len(net.rows) - math.ceil(too_high / LEAST_ROW_MM)


def _in_columns(plan: Plan, most_mm: float) -> Iterable[Draft]:
    """Yield the drafts of a plan in its widest columns that fit, lower and lower."""
    for room in WIDE:
        columns = columned(plan.net, plan.rows, room, most_mm)
        if columns is not None:
            yield from (plan.draft(columns, air) for air in HIGH)
            return


def _half(spare_mm: float) -> float:
    return math.floor(spare_mm / 2 / GRID_MM) * GRID_MM
