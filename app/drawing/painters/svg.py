"""Marks as SVG text, for other programs and for the web."""

from __future__ import annotations

from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from app.drawing.marks import (
    Arc,
    Circle,
    Mark,
    Path,
    Rect,
    Text,
    arc_points,
    flat,
    rounded_corners,
)
from app.drawing.theme import Palette, colour

_FAMILY = "'DejaVu Sans Condensed', 'DejaVu Sans', sans-serif"


def svg_text(
    marks: Iterable[Mark], size_mm: tuple[float, float], title: str, palette: Palette = "day"
) -> str:
    """Return the marks as an SVG document in millimetres."""
    width, height = size_mm
    head = (
        '<?xml version="1.0" encoding="UTF-8"?>\n'
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(width)}mm" height="{_n(height)}mm" '
        f'viewBox="0 0 {_n(width)} {_n(height)}" font-family={quoteattr(_FAMILY)}>\n'
        f"<title>{escape(title)}</title>\n"
        f'<rect width="{_n(width)}" height="{_n(height)}" fill="{colour("paper", palette)}"/>\n'
    )
    body = "\n".join(line for mark in flat(marks) if (line := _element(mark, palette)))
    return f"{head}{body}\n</svg>\n"


def _n(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _paint(role: str | None, width: float, fill: str | None, palette: Palette,
           dash: tuple[float, ...] = ()) -> str:
    parts = [f'fill="{colour(fill, palette) if fill else "none"}"']
    if role is not None:
        parts.append(f'stroke="{colour(role, palette)}" stroke-width="{_n(width)}"')
    if dash:
        parts.append(f'stroke-dasharray="{" ".join(_n(part) for part in dash)}"')
    return " ".join(parts)


def _element(mark: Mark, palette: Palette) -> str | None:
    if isinstance(mark, Path):
        style = _paint(mark.role, mark.width_mm, mark.fill, palette, mark.dash)
        return f'<path d="{_data(mark)}" {style}/>'
    if isinstance(mark, Circle):
        style = _paint(mark.role, mark.width_mm, mark.fill, palette, mark.dash)
        return f'<circle cx="{_n(mark.x)}" cy="{_n(mark.y)}" r="{_n(mark.r)}" {style}/>'
    if isinstance(mark, Rect):
        style = _paint(mark.role, mark.width_mm, mark.fill, palette, mark.dash)
        corner = f' rx="{_n(mark.r)}"' if mark.r else ""
        return (f'<rect x="{_n(mark.x)}" y="{_n(mark.y)}" width="{_n(mark.w)}" '
                f'height="{_n(mark.h)}"{corner} {style}/>')
    if isinstance(mark, Arc):
        points = " ".join(f"{_n(x)},{_n(y)}" for x, y in arc_points(mark, 24))
        style = _paint(mark.role, mark.width_mm, None, palette)
        return f'<polyline points="{points}" {style}/>'
    return _text(mark, palette) if isinstance(mark, Text) else None


def _data(mark: Path) -> str:
    points = mark.points
    parts = [f"M{_n(points[0][0])} {_n(points[0][1])}"]
    for enter, corner, leave in rounded_corners(mark) if mark.corner_mm else ():
        parts.append(f"L{_n(enter[0])} {_n(enter[1])}Q{_n(corner[0])} {_n(corner[1])} "
                     f"{_n(leave[0])} {_n(leave[1])}")
    rest = points[-1:] if mark.corner_mm else points[1:]
    parts += [f"L{_n(x)} {_n(y)}" for x, y in rest]
    return "".join(parts) + ("Z" if mark.closed else "")



def _text(mark: Text, palette: Palette) -> str:
    style = [f'font-size="{_n(mark.size_mm)}"', f'fill="{colour(mark.role, palette)}"']
    if "bold" in mark.face or mark.face == "title":
        style.append('font-weight="bold"')
    if "oblique" in mark.face:
        style.append('font-style="italic"')
    if mark.anchor != "start":
        style.append(f'text-anchor="{mark.anchor}"')
    if mark.spacing_mm:
        style.append(f'letter-spacing="{_n(mark.spacing_mm)}"')
    if mark.upward:
        style.append(f'transform="rotate(-90 {_n(mark.x)} {_n(mark.y)})"')
    return f'<text x="{_n(mark.x)}" y="{_n(mark.y)}" {" ".join(style)}>{escape(mark.text)}</text>'
