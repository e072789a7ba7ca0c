"""Neutral marks in millimetres, y down. They carry roles ("positive", "ink"), never colours.

Everything that is drawn, on the screen or on paper, is made of these few marks; painters know
nothing else. Groups are only moved: turning and mirroring is done on the marks themselves, so
that lettering never turns with a symbol.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

Point = tuple[float, float]
Face = Literal["book", "bold", "oblique", "bold_oblique", "title"]
Anchor = Literal["start", "middle", "end"]

CAP_HEIGHT = 0.729  # of the em, DejaVu Sans; read from the font's own table
DESCENT = 0.236


class Path(Struct, frozen=True):
    """A row of straight lines, open or closed, stroked and filled by role."""

    points: tuple[Point, ...]
    role: str | None = "ink"
    width_mm: float = 0.35
    dash: tuple[float, ...] = ()
    closed: bool = False
    fill: str | None = None
    corner_mm: float = 0.0
    clip: bool = False


class Circle(Struct, frozen=True):
    """A circle round a centre."""

    x: float
    y: float
    r: float
    role: str | None = "ink"
    width_mm: float = 0.35
    fill: str | None = None
    dash: tuple[float, ...] = ()


class Arc(Struct, frozen=True):
    """Part of a circle, from an angle over a span in degrees, clockwise on the sheet."""

    x: float
    y: float
    r: float
    start_deg: float
    span_deg: float
    role: str = "ink"
    width_mm: float = 0.35


class Rect(Struct, frozen=True):
    """An upright rectangle by its top left corner, with rounded corners if `r` is given."""

    x: float
    y: float
    w: float
    h: float
    r: float = 0.0
    role: str | None = "ink"
    width_mm: float = 0.5
    fill: str | None = None
    dash: tuple[float, ...] = ()


class Text(Struct, frozen=True):
    """One line of lettering at its baseline; `size_mm` is the em height."""

    x: float
    y: float
    text: str
    size_mm: float = 2.4
    role: str = "ink"
    face: Face = "book"
    anchor: Anchor = "start"
    upward: bool = False
    spacing_mm: float = 0.0


class Group(Struct, frozen=True):
    """Marks that may stand on the sheet more than once, moved by (x, y)."""

    marks: tuple[Mark, ...]
    x: float
    y: float


class Target(Struct, frozen=True):
    """An invisible area: a place a printed page can link to (`name`) or from (`goes_to`)."""

    box: Box
    name: str = ""
    goes_to: str = ""


class Box(Struct, frozen=True):
    """An upright box: left, top, right, bottom. [mm]."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def w(self) -> float:
        """Return the width. [mm]."""
        return self.x1 - self.x0

    @property
    def h(self) -> float:
        """Return the height. [mm]."""
        return self.y1 - self.y0

    def moved(self, dx: float, dy: float) -> Box:
        """Return the box moved."""
        return Box(self.x0 + dx, self.y0 + dy, self.x1 + dx, self.y1 + dy)

    def grown(self, by: float) -> Box:
        """Return the box larger by `by` on every side."""
        return Box(self.x0 - by, self.y0 - by, self.x1 + by, self.y1 + by)

    def meets(self, other: Box) -> bool:
        """Return whether the insides of both boxes overlap."""
        return (self.x0 < other.x1 and other.x0 < self.x1
                and self.y0 < other.y1 and other.y0 < self.y1)

    def holds(self, x: float, y: float) -> bool:
        """Return whether the point lies in the box or on its edge."""
        return self.x0 <= x <= self.x1 and self.y0 <= y <= self.y1

    def joined(self, other: Box) -> Box:
        """Return the smallest box round both."""
        return Box(min(self.x0, other.x0), min(self.y0, other.y0),
                   max(self.x1, other.x1), max(self.y1, other.y1))

    def as_tuple(self) -> tuple[float, float, float, float]:
        """Return left, top, right, bottom."""
        return (self.x0, self.y0, self.x1, self.y1)


Mark = Path | Circle | Arc | Rect | Text | Group | Target


def line(x0: float, y0: float, x1: float, y1: float, width_mm: float = 0.35,
         role: str = "ink", dash: tuple[float, ...] = ()) -> Path:
    """Return one straight stroke."""
    return Path(((x0, y0), (x1, y1)), role, width_mm, dash)


def polygon(points: Iterable[Point], fill: str = "ink", role: str | None = None,
            width_mm: float = 0.35) -> Path:
    """Return a filled shape."""
    return Path(tuple(points), role, width_mm, closed=True, fill=fill)


def centred(x: float, y: float, text: str, size_mm: float, role: str = "ink",
            face: Face = "bold") -> Text:
    """Return lettering whose capitals are centred on a point."""
    return Text(x, y + CAP_HEIGHT * size_mm / 2, text, size_mm, role, face, "middle")


def turned_point(x: float, y: float, turn: int, mirrored: bool = False) -> Point:
    """Return a point mirrored left to right, then turned clockwise by 0, 90, 180 or 270 deg."""
    x = -x if mirrored else x
    if turn == 90:
        return (-y, x)
    if turn == 180:
        return (-x, -y)
    if turn == 270:
        return (y, -x)
    return (x, y)


def turned_box(box: Box, turn: int, mirrored: bool = False) -> Box:
    """Return the upright box round the turned box."""
    ax, ay = turned_point(box.x0, box.y0, turn, mirrored)
    bx, by = turned_point(box.x1, box.y1, turn, mirrored)
    return Box(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


def turned(mark: Mark, turn: int, mirrored: bool = False) -> Mark:
    """Return the mark turned about the origin; lettering keeps its own uprightness."""
    if turn == 0 and not mirrored:
        return mark
    if isinstance(mark, Path):
        points = tuple(turned_point(x, y, turn, mirrored) for x, y in mark.points)
        return replace(mark, points=points)
    if isinstance(mark, Circle):
        x, y = turned_point(mark.x, mark.y, turn, mirrored)
        return replace(mark, x=x, y=y)
    if isinstance(mark, Arc):
        return _turned_arc(mark, turn, mirrored)
    if isinstance(mark, Rect):
        box = turned_box(Box(mark.x, mark.y, mark.x + mark.w, mark.y + mark.h), turn, mirrored)
        return replace(mark, x=box.x0, y=box.y0, w=box.w, h=box.h)
    if isinstance(mark, Text):
        half = CAP_HEIGHT * mark.size_mm / 2
        x, y = turned_point(mark.x, mark.y - half, turn, mirrored)
        return replace(mark, x=x, y=y + half)
    if isinstance(mark, Target):
        return replace(mark, box=turned_box(mark.box, turn, mirrored))
    raise TypeError("a group is moved, never turned")


def _turned_arc(mark: Arc, turn: int, mirrored: bool) -> Arc:
    x, y = turned_point(mark.x, mark.y, turn, mirrored)
    start, span = mark.start_deg, mark.span_deg
    if mirrored:
        start, span = 180 - start, -span
    return replace(mark, x=x, y=y, start_deg=start + turn, span_deg=span)


def moved(mark: Mark, dx: float, dy: float) -> Mark:
    """Return the mark moved."""
    if isinstance(mark, Path):
        return replace(mark, points=tuple((x + dx, y + dy) for x, y in mark.points))
    if isinstance(mark, Target):
        return replace(mark, box=mark.box.moved(dx, dy))
    return replace(mark, x=mark.x + dx, y=mark.y + dy)


def flat(marks: Iterable[Mark]) -> Iterator[Mark]:
    """Yield the marks with groups resolved into what they hold."""
    for mark in marks:
        if isinstance(mark, Group):
            for inner in flat(mark.marks):
                yield moved(inner, mark.x, mark.y)
        else:
            yield mark


def bounds(marks: Iterable[Mark]) -> Box | None:
    """Return the box round all strokes and shapes, lettering left out; None for nothing."""
    box: Box | None = None
    for mark in flat(marks):
        own = _own_bounds(mark)
        if own is not None:
            box = own if box is None else box.joined(own)
    return box


def _own_bounds(mark: Mark) -> Box | None:
    if isinstance(mark, Path):
        xs, ys = [p[0] for p in mark.points], [p[1] for p in mark.points]
        return Box(min(xs), min(ys), max(xs), max(ys))
    if isinstance(mark, Circle):
        return Box(mark.x - mark.r, mark.y - mark.r, mark.x + mark.r, mark.y + mark.r)
    if isinstance(mark, Arc):
        return _bounds_of_points(arc_points(mark, 8))
    if isinstance(mark, Rect):
        return Box(mark.x, mark.y, mark.x + mark.w, mark.y + mark.h)
    return None


def _bounds_of_points(points: Iterable[Point]) -> Box:
    listed = list(points)
    xs, ys = [p[0] for p in listed], [p[1] for p in listed]
    return Box(min(xs), min(ys), max(xs), max(ys))


def arc_points(arc: Arc, steps: int) -> list[Point]:
    """Return points along the arc, both ends included."""
    points = []
    for i in range(steps + 1):
        angle = math.radians(arc.start_deg + arc.span_deg * i / steps)
        points.append((arc.x + arc.r * math.cos(angle), arc.y + arc.r * math.sin(angle)))
    return points


def rounded_corners(mark: Path) -> Iterator[tuple[Point, Point, Point]]:
    """Yield (enter, corner, leave) for each inner corner of a path with rounded corners."""
    points = mark.points
    for before, corner, after in zip(points, points[1:], points[2:], strict=False):
        r = min(mark.corner_mm, _distance(before, corner) / 2, _distance(corner, after) / 2)
        yield toward(corner, before, r), corner, toward(corner, after, r)


def _distance(a: Point, b: Point) -> float:
    return abs(a[0] - b[0]) + abs(a[1] - b[1])


def toward(a: Point, b: Point, by: float) -> Point:
    """Return the point `by` millimetres from `a` in the direction of `b`, on an upright leg."""
    whole = _distance(a, b) or 1.0
    return (a[0] + (b[0] - a[0]) * by / whole, a[1] + (b[1] - a[1]) * by / whole)
