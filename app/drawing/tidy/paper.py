"""What fits on which paper: drafts of a whole sheet, the airiest first."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from msgspec import Struct

from app.drawing.frame import ground_box
from app.drawing.marks import Box
from app.drawing.routing import snapped
from app.drawing.tidy.columns import Room, columned, crooked, least_width_mm
from app.drawing.tidy.draft import Draft, Plan, least_height_mm, netted, planned
from app.drawing.tidy.net import Net
from model.diagram import Component, Diagram

LARGER: Mapping[str, str] = {"A4": "A3", "A3": "A2", "Letter": "Tabloid", "Tabloid": "A2"}
MARGIN_MM = 5.0
LEAST_ROW_MM = 22.0  # what a row and the gap to the next need at least
WIDE = (Room(1.6), Room(1.3), Room(1.0), Room(1.0, slim=True), Room(0.6, slim=True))
HIGH = (1.6, 1.4, 1.2, 1.0, 0.85)  # how much air between rows
ENDLESS, PLANS = 10_000, 4
TIERS = (2, 3)


def drafts(
    diagram: Diagram, drawn: Mapping[str, Component], place_pull: float = 0.0, throw: int = 0
) -> Iterable[tuple[str, Draft]]:
    """Yield drafts with the paper they fit on; where none fits, one that reaches beyond it.

    What is too high is planned again with fewer rows; then larger paper is taken, and at
    last branches hang in tiers.
    """
    size: str = diagram.sheet.size
    sizes = [size]
    while sizes[-1] in LARGER:
        sizes.append(LARGER[sizes[-1]])
    plans: dict[object, Plan] = {}
    fits = False
    for tiers, size in (*((1, size) for size in sizes), *((n, sizes[-1]) for n in TIERS)):
        wanted = _Wanted(diagram, drawn, tiers, place_pull, throw)
        for draft in _on_paper(wanted, ground_box(size), plans):
            fits = True
            yield size, draft
        if fits and tiers > 1:
            return
    if not fits:
        plan = planned(netted(diagram, drawn, ENDLESS))
        columns = columned(plan.net, plan.rows, WIDE[-1], ENDLESS)
        assert columns is not None
        yield size, plan.draft(columns, HIGH[-1]).moved(30.0, 30.0)


class _Wanted(Struct, frozen=True):
    """What is to be laid out, in how many tiers branches may hang, how places pull, and
    which throw of the dice the order begins with.
    """

    diagram: Diagram
    drawn: Mapping[str, Component]
    tiers: int
    place_pull: float
    throw: int

    def net(self, most_rows: int) -> Net:
        """Return the rows, no more than so many if that can be."""
        return netted(self.diagram, self.drawn, most_rows, self.tiers, self.place_pull)


def _on_paper(
    wanted: _Wanted, ground: Box, plans: dict[object, Plan]
) -> Iterable[Draft]:
    """Yield the drafts that fit; `plans` remembers what was planned for other paper."""
    inside = ground.grown(-MARGIN_MM)
    most_rows = int(inside.h // LEAST_ROW_MM)
    tried: tuple[tuple[str, ...], ...] = ()
    for _ in range(PLANS):
        net = wanted.net(most_rows)
        if net.rows == tried or max(least_width_mm(net, row) for row in net.rows) > inside.w:
            return
        tried = net.rows
        too_high = HIGH[-1] * least_height_mm(net) - inside.h
        if too_high <= 0:
            if net.rows not in plans:
                plans[net.rows] = planned(net, wanted.throw)
            found = list(_in_columns(plans[net.rows], inside))
            fitting = [draft for draft in found if draft.height_mm <= inside.h]
            yield from (_centred(draft, inside) for draft in fitting)
            if fitting or not found:
                return
            too_high = min(draft.height_mm for draft in found) - inside.h
        most_rows = len(net.rows) - math.ceil(too_high / LEAST_ROW_MM)


def _in_columns(plan: Plan, inside: Box) -> Iterable[Draft]:
    """Yield a draft for each room whose columns fit, as high as fits, or else as low as can be.

    The straightest come first; of equally straight ones the airiest.
    """
    rooms = [columns for room in WIDE
             if (columns := columned(plan.net, plan.rows, room, inside.w)) is not None]
    for columns in sorted(rooms, key=lambda found: crooked(plan.net, found)):
        made = (plan.draft(columns, air) for air in HIGH)
        yield next((draft for draft in made if draft.height_mm <= inside.h),
                   plan.draft(columns, HIGH[-1]))


def _centred(draft: Draft, inside: Box) -> Draft:
    return draft.moved(snapped(inside.x0 + (inside.w - draft.width_mm) / 2),
                       snapped(inside.y0 + (inside.h - draft.height_mm) / 2))
