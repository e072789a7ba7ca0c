"""Small shapes that many symbols share: leads, signs of current and polarity, diodes, arrows."""

from __future__ import annotations

import math
from collections.abc import Iterable

from app.drawing.marks import Circle, Mark, Path, Point, Rect, Text, centred, line, polygon

OUTLINE_MM, INNER_MM, FINE_MM, HEAVY_MM = 0.5, 0.35, 0.25, 0.7


def lead(x0: float, y0: float, x1: float, y1: float) -> Path:
    """Return a piece of conductor inside a symbol."""
    return line(x0, y0, x1, y1, OUTLINE_MM)


def box(x0: float, y0: float, x1: float, y1: float, r: float = 0.0) -> Rect:
    """Return an outlined body by its left, top, right and bottom."""
    return Rect(x0, y0, x1 - x0, y1 - y0, r, "ink", OUTLINE_MM, "body")


def ring(x: float, y: float, r: float) -> Circle:
    """Return an outlined round body."""
    return Circle(x, y, r, "ink", OUTLINE_MM, "body")


def dot(x: float, y: float, r: float) -> Circle:
    """Return a filled dot."""
    return Circle(x, y, r, None, 0.0, "ink")


def figure(x: float, y: float, text: str, size_mm: float = 2.0) -> Text:
    """Return fine lettering centred on a point."""
    return centred(x, y, text, size_mm, "ink2", "book")


def plus(x: float, y: float) -> list[Mark]:
    """Return a small plus sign."""
    return [line(x - 0.7, y, x + 0.7, y, INNER_MM), line(x, y - 0.7, x, y + 0.7, INNER_MM)]


def minus(x: float, y: float) -> list[Mark]:
    """Return a small minus sign."""
    return [line(x - 0.7, y, x + 0.7, y, INNER_MM)]


def dc_sign(x: float, y: float, width_mm: float = 3.6) -> list[Mark]:
    """Return the sign of direct current: a full bar over a dashed one."""
    half, part = width_mm / 2, width_mm / 3.8
    return [
        line(x - half, y - 0.55, x + half, y - 0.55, INNER_MM),
        line(x - half, y + 0.55, x + half, y + 0.55, INNER_MM, dash=(part, 0.4 * part)),
    ]


def sine(x: float, y: float, width_mm: float = 4.0, height_mm: float = 2.4) -> Path:
    """Return the sign of alternating current: one wave."""
    points = [
        (x - width_mm / 2 + width_mm * i / 20,
         y - height_mm / 2 * math.sin(2 * math.pi * i / 20))
        for i in range(21)
    ]
    return Path(tuple(points), "ink", INNER_MM)


def sun(x: float, y: float) -> list[Mark]:
    """Return a small sun."""
    marks: list[Mark] = [Circle(x, y, 1.1, "ink", INNER_MM)]
    for i in range(8):
        c, s = math.cos(i * math.pi / 4), math.sin(i * math.pi / 4)
        marks.append(line(x + 1.6 * c, y + 1.6 * s, x + 2.3 * c, y + 2.3 * s, INNER_MM))
    return marks


def blades(x: float, y: float, r: float, width_mm: float = INNER_MM) -> list[Mark]:
    """Return three blades as strokes from a hub."""
    marks: list[Mark] = [dot(x, y, 0.45)]
    for angle in (-90, 30, 150):
        c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        marks.append(line(x, y, x + r * c, y + r * s, width_mm))
    return marks


def ellipse(x: float, y: float, rx: float, ry: float, fill: str | None = None,
            width_mm: float = INNER_MM) -> Path:
    """Return an upright ellipse."""
    points = [
        (x + rx * math.cos(i * math.pi / 14), y + ry * math.sin(i * math.pi / 14))
        for i in range(28)
    ]
    return Path(tuple(points), "ink", width_mm, closed=True, fill=fill)


def diode(x: float, y: float, way: int = 1, half_mm: float = 1.3) -> list[Mark]:
    """Return an upright filled diode round a point; way 1 conducts downwards, -1 upwards."""
    tip, base = y + way * half_mm, y - way * half_mm
    return [
        polygon([(x - half_mm, base), (x + half_mm, base), (x, tip)]),
        line(x - half_mm, tip, x + half_mm, tip, OUTLINE_MM),
    ]


def arrow_head(tip: Point, angle_deg: float, length_mm: float = 1.8) -> Path:
    """Return a filled arrow head that points along an angle, 0 to the right, 90 down."""
    angle = math.radians(angle_deg)
    c, s = math.cos(angle), math.sin(angle)
    wide = 0.4 * length_mm
    back = (tip[0] - length_mm * c, tip[1] - length_mm * s)
    return polygon([tip, (back[0] - wide * s, back[1] + wide * c),
                    (back[0] + wide * s, back[1] - wide * c)])


def arrow(x0: float, y0: float, x1: float, y1: float, width_mm: float = INNER_MM,
          head_mm: float = 1.8) -> list[Mark]:
    """Return a stroke with a filled head at its end."""
    angle = math.degrees(math.atan2(y1 - y0, x1 - x0))
    length = math.hypot(x1 - x0, y1 - y0)
    part = (length - 0.8 * head_mm) / length
    return [
        line(x0, y0, x0 + (x1 - x0) * part, y0 + (y1 - y0) * part, width_mm),
        arrow_head((x1, y1), angle, head_mm),
    ]


def joined(*groups: Iterable[Mark] | Mark) -> tuple[Mark, ...]:
    """Return single marks and groups of marks in one row."""
    marks: list[Mark] = []
    for group in groups:
        if isinstance(group, list | tuple):
            marks.extend(group)
        else:
            marks.append(group)  # type: ignore[arg-type]
    return tuple(marks)
