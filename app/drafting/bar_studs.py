"""Leading a conductor to a bar: to its nearest free stud, or to one more where all are taken.

On a drawing a bar is one place to connect to, wherever on it the line is let go.
"""

from __future__ import annotations

from msgspec import Struct

from app.drawing.marks import turned_point
from app.drawing.placing import placed_part
from app.drawing.symbols.distribution import GRID_MM, stud_places_mm
from model.diagram import Component, Diagram
from model.edits import Edit, changed, setting
from model.kinds import kind_of
from model.kinds.distribution import stud_ids

Point = tuple[float, float]


class OnBar(Struct, frozen=True):
    """A point on a bar with no free stud, where one more would stand: how far along, and where."""

    component: str
    along_mm: float
    point: Point

    def at(self) -> Point:
        """Return where the stud would stand on the sheet."""
        return self.point


def bar_anchor(diagram: Diagram, item: str, near: Point) -> tuple[str, str] | OnBar | None:
    """Return the free stud of a bar nearest to a point, else where one more would stand.

    None for a part that is no bar, and for a bar that bears no more studs.
    """
    part = diagram.components[item]
    spec = kind_of(part).field("stud_count")
    placed = placed_part(part)
    if spec is None or placed is None:
        return None
    taken = {end.terminal for wire in diagram.conductors.values() for end in wire.ends()
             if end.component == item}
    free = [stud for stud in stud_ids(part.parameters) if stud not in taken]
    if free:
        return item, min(free, key=lambda stud: _away(placed.port(stud).at, near))
    if spec.maximum is not None and len(stud_ids(part.parameters)) >= spec.maximum:
        return None
    return _one_more(part, near)


def _away(at: Point, near: Point) -> float:
    return abs(at[0] - near[0]) + abs(at[1] - near[1])


def _one_more(part: Component, near: Point) -> OnBar:
    """Return where a stud would stand: on the grid, abreast of a point."""
    assert part.at is not None
    ahead = turned_point(1.0, 0.0, part.turn, part.mirrored)
    along = sum((near[i] - part.at[i]) * ahead[i] for i in (0, 1))
    along = round(along / GRID_MM) * GRID_MM
    return OnBar(part.id, along, (part.at[0] + along * ahead[0], part.at[1] + along * ahead[1]))


def with_bar_stud(diagram: Diagram, anchor: OnBar) -> tuple[tuple[str, str], Edit]:
    """Return the terminal of one more stud in a bar, and the edit that gives the bar that stud."""
    bar = diagram.components[anchor.component]
    places = (*stud_places_mm(bar.parameters), anchor.along_mm)
    parameters = bar.parameters.with_items(
        [("stud_count", len(places)), ("stud_at_mm", places)])
    after = changed(bar, parameters=parameters)
    return (bar.id, f"s{len(places)}"), setting(diagram, "", after)
