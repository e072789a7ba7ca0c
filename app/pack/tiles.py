"""A large diagram on small paper: over how many sheets it goes, and the marks to join them by."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product

from msgspec import Struct

from app.drawing.fonts import text_box
from app.drawing.frame import SIZES_MM, ground_box
from app.drawing.marks import Anchor, Box, Mark, Rect, Target, Text, bounds, flat, line, polygon

READABLE_SCALE = 0.8  # below it lettering falls under 5 pt
OVERLAP_MM = 20.0  # wider than a symbol: each stands whole on one of two neighbours
MARGIN_MM = 2.0
MATCH_DASH = (5, 1, 0.8, 1)
MOST_EACH_WAY = 3
ARROW_MM = 2.6
CLEAR_MM = 0.8  # between lettering and a match line that stops for it


class Tiling(Struct, frozen=True):
    """Sheets of one size, side by side and one below the other; `content` is what they show."""

    size: str
    columns: int
    rows: int
    scale: float
    content: Box

    @property
    def count(self) -> int:
        """Return how many sheets there are."""
        return self.columns * self.rows

    @property
    def ground(self) -> Box:
        """Return the ground of each sheet. [mm on paper]."""
        return ground_box(self.size)

    def shift(self, number: int) -> tuple[float, float]:
        """Return by how much the scaled diagram is moved for one sheet, from 0. [mm]."""
        row, column = divmod(number, self.columns)
        ground, content, k = self.ground, self.content, self.scale
        spare_x = _span(ground.w, self.columns) - content.w * k
        spare_y = _span(ground.h, self.rows) - content.h * k
        return (ground.x0 + spare_x / 2 - content.x0 * k - column * (ground.w - OVERLAP_MM),
                ground.y0 + spare_y / 2 - content.y0 * k - row * (ground.h - OVERLAP_MM))


def _span(length_mm: float, count: int) -> float:
    """Return how much neighbouring sheets show together. [mm]."""
    return count * length_mm - (count - 1) * OVERLAP_MM


def content_box(marks: Iterable[Mark]) -> Box | None:
    """Return the box round everything drawn, lettering too; None for nothing."""
    listed = list(marks)
    box = bounds(listed)
    for mark in flat(listed):
        if isinstance(mark, Text) and box is not None:
            box = box.joined(text_box(mark))
    return box.grown(MARGIN_MM) if box is not None else None


def tiling(content: Box, paper: str) -> Tiling:
    """Return the fewest sheets of a paper, lying or upright, on which the content is readable."""
    plans = []
    sizes = [size for size in (paper, f"{paper} upright") if size in SIZES_MM]
    each_way = range(1, MOST_EACH_WAY + 1)
    for size, columns, rows in product(sizes, each_way, each_way):
        ground = ground_box(size)
        scale = min(1.0, _span(ground.w, columns) / content.w, _span(ground.h, rows) / content.h)
        plans.append(Tiling(size, columns, rows, scale, content))
    readable = [plan for plan in plans if plan.scale >= READABLE_SCALE]
    if readable:
        return min(readable, key=lambda plan: (plan.count, -plan.scale))
    return max(plans, key=lambda plan: plan.scale)


def on_tile(marks: Iterable[Mark], ground: Box) -> list[Mark]:
    """Return the marks that show on a sheet.

    A link goes where its middle is. Short lettering stands whole on one of two neighbours and is
    left out where it would be cut.
    """
    return [mark for mark in marks if _shows(mark, ground)]


def _shows(mark: Mark, ground: Box) -> bool:
    if isinstance(mark, Target):
        box = mark.box
        return ground.holds((box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2)
    if isinstance(mark, Text):
        box = text_box(mark)
        if box.w <= OVERLAP_MM and box.h <= OVERLAP_MM:
            return ground.holds(box.x0, box.y0) and ground.holds(box.x1, box.y1)
    else:
        around = bounds([mark])
        if around is None:
            return False
        box = around
    return (box.x1 > ground.x0 and box.x0 < ground.x1
            and box.y1 > ground.y0 and box.y0 < ground.y1)


def covers(plan: Tiling) -> list[Mark]:
    """Return white grounds over what the diagram has outside a sheet's own ground."""
    width, height = SIZES_MM[plan.size]
    g = plan.ground
    boxes = (Box(-600, -600, g.x0, 1200), Box(g.x1, -600, width + 600, 1200),
             Box(-600, -600, width + 600, g.y0), Box(-600, g.y1, width + 600, height + 600))
    return [Rect(b.x0, b.y0, b.w, b.h, 0, None, 0, "white") for b in boxes]


def match_marks(plan: Tiling, number: int, drawn: Iterable[Mark] = ()) -> list[Mark]:
    """Return the lines at which neighbouring sheets join, with the sheet that goes on there.

    They stop for the lettering of what is drawn.
    """
    words = [text_box(mark) for mark in flat(list(drawn)) if isinstance(mark, Text)]
    row, column = divmod(number, plan.columns)
    g, half = plan.ground, OVERLAP_MM / 2
    marks: list[Mark] = []
    for step, x in ((-1, g.x0 + half), (1, g.x1 - half)):
        if 0 <= column + step < plan.columns:
            across = [(box.y0, box.y1) for box in words if box.grown(CLEAR_MM).x0 < x
                      < box.grown(CLEAR_MM).x1]
            marks += [line(x, low, x, high, 0.25, "violet", MATCH_DASH)
                      for low, high in _free(g.y0, g.y1, across)]
            marks += _match_ends(x, g, step, number + step + 1)
    for step, y in ((-1, g.y0 + half), (1, g.y1 - half)):
        if 0 <= row + step < plan.rows:
            across = [(box.x0, box.x1) for box in words if box.grown(CLEAR_MM).y0 < y
                      < box.grown(CLEAR_MM).y1]
            marks += [line(low, y, high, y, 0.25, "violet", MATCH_DASH)
                      for low, high in _free(g.x0, g.x1, across)]
            said = f"joins sheet {number + 1 + step * plan.columns} here"
            marks.append(Text(g.x0 + 2, y - 0.8, said, 2.1, "violet", "oblique"))
    return marks


def _free(low: float, high: float, taken: Iterable[tuple[float, float]]) -> Iterator[
        tuple[float, float]]:
    """Yield what is left of a line between what lies across it. [mm]."""
    for start, finish in sorted(taken):
        if low < min(start - CLEAR_MM, high):
            yield low, min(start - CLEAR_MM, high)
        low = max(low, finish + CLEAR_MM)
    if low < high:
        yield low, high


def _match_ends(x: float, ground: Box, step: int, sheet: int) -> list[Mark]:
    """Return an upright match line's arrow heads at both ends, and the sheet it leads to."""
    marks: list[Mark] = []
    for y, down in ((ground.y0, 1), (ground.y1, -1)):
        marks.append(polygon(((x - ARROW_MM / 2, y), (x + ARROW_MM / 2, y),
                              (x, y + down * ARROW_MM)), "violet"))
    anchor: Anchor = "end" if step > 0 else "start"
    words = f"joins sheet {sheet} here"
    marks.append(Text(x - step * 2.0, ground.y1 - 1.0, words, 2.1, "violet", "oblique", anchor))
    return marks
