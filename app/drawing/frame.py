"""The sheet's frame with its graduated border (ISO 5457), title block (ISO 7200) and legend."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import TYPE_CHECKING

from app.drawing.badges import legend_badges
from app.drawing.fonts import shortened, text_width_mm, wrapped
from app.drawing.marks import (
    Box,
    Circle,
    Face,
    Mark,
    Path,
    Rect,
    Text,
    centred,
    line,
    moved,
    polygon,
)

if TYPE_CHECKING:
    from model.diagram import BoatInfo, Sheet

SIZES_MM: Mapping[str, tuple[float, float]] = {
    "A4": (297.0, 210.0), "A3": (420.0, 297.0), "A2": (594.0, 420.0),
    "Letter": (279.4, 215.9), "Tabloid": (431.8, 279.4),
    # Standing papers, for a large diagram that is tiled over two of them.
    "A4 upright": (210.0, 297.0), "Letter upright": (215.9, 279.4),
}
LEFT_MM, OTHER_MM = 20.0, 10.0
STRIP_MM = 3.4
FIELD_MM, BAR_MM = 50.0, 5.0
LETTERS = "ABCDEFGHJKLMNP"
BLOCK_W, BLOCK_H = 180.0, 37.0
ROW_W, ROW_H = 143.0, 11.0  # of the title block's last row, which also ends a strip
PRACTICE = {"iso": "ISO 13297 practice", "us": "33 CFR 183 and ABYC practice"}
LEGEND_W = 150.0  # the least a legend needs beside the title block
NAME_SPACING = 0.08  # of the em

CAUTION = (
    "Batteries cannot be switched off. Shore power kills. A lithium bank needs its maker's "
    "instructions. Returns not drawn are understood to run beside their feed, same size. This "
    "sheet informs; it does not certify. Have the work checked by a qualified marine electrician."
)


def sheet_size_mm(size: str) -> tuple[float, float]:
    """Return width and height of a paper size, lying unless it says upright. [mm]."""
    return SIZES_MM[size]


def frame_box(size: str) -> Box:
    """Return the frame: margins of 20 at the left and 10 elsewhere, the border inside."""
    width, height = SIZES_MM[size]
    return Box(LEFT_MM, OTHER_MM, width - OTHER_MM, height - OTHER_MM)


def drawing_area(sheet: Sheet) -> Box:
    """Return the ground for the diagram: inside the border, above the title block."""
    return ground_box(sheet.size)


def ground_box(size: str) -> Box:
    """Return the ground for a diagram on a paper size."""
    frame = frame_box(size)
    return Box(frame.x0 + 2, frame.y0 + 2, frame.x1 - 2, frame.y1 - BLOCK_H - 2)


def frame_marks(
    sheet: Sheet, boat: BoatInfo, counts: Mapping[str, int], sheet_text: str = "1 of 1"
) -> tuple[Mark, ...]:
    """Return frame, title block and, where there is room for it, the legend."""
    marks = border_marks(sheet.size)
    marks += title_block(sheet.size, boat, boat.title, sheet_text)
    frame = frame_box(sheet.size)
    if sheet.legend and has_room_for_legend(sheet.size):
        marks += legend_marks(
            Box(frame.x0, frame.y1 - BLOCK_H, frame.x1 - BLOCK_W, frame.y1), counts)
    return tuple(marks)


def has_room_for_legend(size: str) -> bool:
    """Say whether the legend fits beside the title block; else it gets its own sheet."""
    return frame_box(size).w - BLOCK_W >= LEGEND_W


def border_marks(size: str) -> list[Mark]:
    """Return the graduated border: bars of 5 mm, fields of 50 mm, centring marks."""
    width, height = SIZES_MM[size]
    frame = frame_box(size)
    outer = frame.grown(STRIP_MM)
    marks: list[Mark] = [
        Rect(outer.x0, outer.y0, outer.w, outer.h, 0, "ink", 0.25),
        Rect(frame.x0 - 1.2, frame.y0 - 1.2, frame.w + 2.4, frame.h + 2.4, 0, "ink", 0.18),
        Rect(frame.x0, frame.y0, frame.w, frame.h, 0, "ink", 0.7),
    ]
    marks += _bars(frame)
    marks += _fields(frame, width, height)
    middle_x, middle_y = width / 2, height / 2
    marks += [
        line(middle_x, outer.y0 - 3, middle_x, frame.y0 + 3, 0.7),
        line(middle_x, outer.y1 + 3, middle_x, frame.y1 + 0, 0.7),
        line(outer.x0 - 3, middle_y, frame.x0 + 3, middle_y, 0.7),
        line(outer.x1 + 3, middle_y, frame.x1 - 3, middle_y, 0.7),
    ]
    return marks


def _bars(frame: Box) -> list[Mark]:
    marks: list[Mark] = []
    for number in range(0, int(frame.w / BAR_MM) + 1, 2):
        x = frame.x0 + number * BAR_MM
        length = min(BAR_MM, frame.x1 - x)
        for y in (frame.y0 - 1.2, frame.y1):
            marks.append(Rect(x, y, length, 1.2, 0, None, 0, "ink"))
    for number in range(0, int(frame.h / BAR_MM) + 1, 2):
        y = frame.y0 + number * BAR_MM
        length = min(BAR_MM, frame.y1 - y)
        for x in (frame.x0 - 1.2, frame.x1):
            marks.append(Rect(x, y, 1.2, length, 0, None, 0, "ink"))
    return marks


def _fields(frame: Box, width: float, height: float) -> list[Mark]:
    marks: list[Mark] = []
    band = (1.2 + STRIP_MM) / 2
    for number in range(math.ceil(width / FIELD_MM)):
        low, high = max(frame.x0, number * FIELD_MM), min(frame.x1, (number + 1) * FIELD_MM)
        if high - low > 6:
            for y in (frame.y0 - band, frame.y1 + band):
                marks.append(centred((low + high) / 2, y, str(number + 1), 2.0, "ink", "book"))
    for number in range(math.ceil(height / FIELD_MM)):
        low, high = max(frame.y0, number * FIELD_MM), min(frame.y1, (number + 1) * FIELD_MM)
        if high - low > 6:
            for x in (frame.x0 - band, frame.x1 + band):
                marks.append(centred(x, (low + high) / 2, LETTERS[number], 2.0, "ink", "book"))
    return marks


def title_block(size: str, boat: BoatInfo, title: str, sheet_text: str) -> list[Mark]:
    """Return the title block at the lower right, with the fields of ISO 7200."""
    frame = frame_box(size)
    width = min(BLOCK_W, frame.w)
    x, y = frame.x1 - width, frame.y1 - BLOCK_H
    marks: list[Mark] = [Rect(x, y, width, BLOCK_H, 0, "ink", 0.5, "paper")]
    marks += [*_moved_rose(x + 18.5, y + 18.5), line(x + 37, y, x + 37, frame.y1, 0.5)]
    left = x + 37
    marks += [line(left, y + 13.5, frame.x1, y + 13.5, 0.35),
              line(left, y + 26, frame.x1, y + 26, 0.35)]
    marks += _boat_line(left, y, frame.x1, boat)
    unit = "feet" if boat.length_unit == "ft" else "metres"
    marks += [_caption(left + 2, y + 16.4, "Title"),
              Text(left + 2, y + 20.8, title,
                   _shrunk_mm(title, 3.9, frame.x1 - left - 5, "bold"), "ink", "bold"),
              Text(left + 2, y + 24.6, f"Lengths in {unit}, one way. Checked against "
                   f"{PRACTICE[boat.rule_set]}.", 2.1, "ink2", "oblique")]
    return [*marks, *_block_fields(left, frame, boat, sheet_text)]


def title_strip(size: str, boat: BoatInfo, title: str, sheet_text: str) -> list[Mark]:
    """Return the same fields as one low row along the foot, for pages of tables."""
    frame = frame_box(size)
    top, left = frame.y1 - ROW_H, frame.x1 - ROW_W
    middle = (frame.x0 + left) / 2
    marks: list[Mark] = [Rect(frame.x0, top, frame.w, ROW_H, 0, "ink", 0.5, "paper")]
    for x, caption, text in ((frame.x0, "Boat", boat.name or "Unnamed boat"),
                             (middle, "Title", title)):
        size_mm = _shrunk_mm(text, 3.4, middle - frame.x0 - 5, "bold")
        marks += [_caption(x + 2, top + 3.4, caption),
                  Text(x + 2, top + 8.4, text, size_mm, "ink", "bold")]
    marks += [line(x, top, x, frame.y1, 0.25) for x in (middle, left)]
    return [*marks, *_block_fields(left, frame, boat, sheet_text)]


def _boat_line(left: float, y: float, right: float, boat: BoatInfo) -> list[Mark]:
    """Return the boat's name, as large as there is room for, and her type."""
    name = (boat.name or "Unnamed boat").upper()
    type_mm = _shrunk_mm(boat.type_text, 2.6, (right - left) / 2, "oblique")
    room = right - left - 8 - text_width_mm(boat.type_text, type_mm, "oblique")
    size = _shrunk_mm(name, 7.2, room, "title", NAME_SPACING)
    return [
        _caption(left + 2, y + 3.2, "Boat"),
        Text(left + 2, y + 10.8, name, size, "ink", "title", spacing_mm=NAME_SPACING * size),
        Text(right - 3, y + 10.8, boat.type_text, type_mm, "ink2", "oblique", "end"),
    ]


def _shrunk_mm(
    text: str, size_mm: float, width_mm: float, face: Face, spacing_em: float = 0.0
) -> float:
    """Return the size, smaller if the lettering would be wider than there is room. [mm]."""
    wide = text_width_mm(text, size_mm, face, spacing_em * size_mm)
    return size_mm if wide <= width_mm else size_mm * width_mm / wide


def _block_fields(left: float, frame: Box, boat: BoatInfo, sheet_text: str) -> list[Mark]:
    top = frame.y1 - ROW_H
    fields = (("Edition", boat.edition), ("Date", boat.date), ("Drawn by", boat.drawn_by),
              ("Approved by", boat.approved_by or "—"), ("Number", boat.number),
              ("Sheet", sheet_text))
    shares = (0.12, 0.19, 0.19, 0.18, 0.18, 0.14)
    marks: list[Mark] = []
    x = left
    for (caption, value), share in zip(fields, shares, strict=True):
        width = (frame.x1 - left) * share
        if x > left:
            marks.append(line(x, top, x, frame.y1, 0.25))
        words = shortened(value, width - 3, 2.8, "bold")
        marks += [_caption(x + 2, top + 3.4, caption),
                  Text(x + 2, top + 8.4, words, 2.8, "ink", "bold")]
        x += width
    return marks


def _caption(x: float, y: float, text: str) -> Text:
    return Text(x, y, text, 2.0, "ink2")


def _moved_rose(x: float, y: float) -> list[Mark]:
    return [moved(mark, x, y) for mark in rose(29.0)]


def rose(diameter_mm: float) -> tuple[Mark, ...]:
    """Return the rose: a graduated ring; a conductor points up, another hops it. About (0, 0)."""
    r = diameter_mm / 2
    marks: list[Mark] = [
        Circle(0, 0, r, "ink", 0.35, "paper"),
        Circle(0, 0, r * 0.86, "ink", 0.25),
    ]
    for number in range(0, 36, 2):
        marks.append(_ring_bar(r * 0.86, r, number * 10, 10))
    for number in range(72):
        length = 0.08 if number % 6 else 0.14
        a = math.radians(number * 5)
        inner, outer = r * (0.84 - length), r * 0.84
        marks.append(line(inner * math.sin(a), -inner * math.cos(a),
                          outer * math.sin(a), -outer * math.cos(a), 0.18))
    hop = r * 0.16
    marks.append(line(0, r * 0.62, 0, -r * 0.5, r * 0.075))
    marks.append(polygon(((0, -r * 0.68), (r * 0.11, -r * 0.44), (-r * 0.11, -r * 0.44))))
    bow = [(hop * math.cos(math.pi - math.pi * i / 10), -hop * math.sin(math.pi * i / 10))
           for i in range(11)]
    level = [(-r * 0.6, 0.0), *bow, (r * 0.6, 0.0)]
    marks.append(Path(tuple(level), "ink", r * 0.075))
    marks += [Circle(s * r * 0.6, 0, r * 0.055, None, 0, "ink") for s in (-1, 1)]
    return tuple(marks)


def _ring_bar(inner: float, outer: float, start_deg: float, span_deg: float) -> Path:
    angles = [math.radians(start_deg + span_deg * i / 4) for i in range(5)]
    points = [(outer * math.sin(a), -outer * math.cos(a)) for a in angles]
    points += [(inner * math.sin(a), -inner * math.cos(a)) for a in reversed(angles)]
    return polygon(points)


def legend_marks(box: Box, counts: Mapping[str, int]) -> list[Mark]:
    """Return the legend: conductors, places, notices, caution, in a box of full block height."""
    marks: list[Mark] = [Rect(box.x0, box.y0, box.w, box.h, 0, "ink", 0.5, "paper")]
    columns = (0.0, 0.33, 0.56, 0.74)
    xs = [box.x0 + share * box.w for share in columns]
    for x in xs[1:]:
        marks.append(line(x, box.y0, x, box.y1, 0.25))
    titles = ("CONDUCTORS", "PLACES", "NOTICES", "CAUTION")
    for x, title in zip(xs, titles, strict=True):
        role = "magenta" if title == "CAUTION" else "ink"
        marks.append(Text(x + 3, box.y0 + 4.6, title, 2.3, role, "bold", spacing_mm=0.25))
    marks += _legend_lines(xs[0] + 3, box.y0 + 9.0)
    marks += _legend_places(xs[1] + 3, box.y0 + 7.6)
    marks += legend_badges(xs[2] + 6.5, box.y0 + 10.5)
    marks += _legend_caution(xs[3] + 3, box.y0 + 8.6, box.x1 - xs[3] - 6, counts)
    return marks


def _legend_lines(x: float, y: float) -> list[Mark]:
    marks: list[Mark] = []
    widths = (1.0, 0.7, 0.5, 0.35)
    for number, width in enumerate(widths):
        marks.append(line(x + number * 5, y, x + number * 5 + 4.6, y, width, "positive"))
    marks += [
        line(x, y + 7, x + 20, y + 7, 0.8, "negative"),
        line(x, y + 7, x + 20, y + 7, 0.36, "paper"),
        line(x, y + 12, x + 20, y + 12, 0.6, "ac"),
        *(line(x + 9 + i * 0.9, y + 13.4, x + 10.4 + i * 0.9, y + 10.6, 0.25, "ac")
          for i in range(3)),
        line(x, y + 17, x + 20, y + 17, 0.3, "control", (1.6, 0.9)),
        line(x, y + 22, x + 20, y + 22, 0.5, "bonding", (4.0, 0.9, 0.6, 0.9)),
        Text(x + 23, y + 0.9, "positive, by weight", 2.4),
        Text(x, y + 3.9, "1.0 from 35, 0.7 from 10, 0.5 from 4 mm²", 2.0, "ink2", "oblique"),
    ]
    for number, word in enumerate(("negative, open line", "AC cable, three strokes",
                                   "control, sense, data", "bonding, protective earth")):
        marks.append(Text(x + 23, y + 7.9 + 5 * number, word, 2.4))
    return marks


def _legend_places(x: float, y: float) -> list[Mark]:
    marks: list[Mark] = []
    for number, (sort, word, dash) in enumerate((
        ("engine", "engine space, hot", ()), ("dry", "dry interior", ()),
        ("outdoors", "outdoors, spray", (5.0, 1.0, 0.8, 1.0)), ("bilge", "bilge, wet", (0.4, 1.0)),
    )):
        top = y + number * 7.0
        marks += [Rect(x, top, 9, 5.2, 0, f"{sort}_edge", 0.3, f"{sort}_tint", dash),
                  Text(x + 11.5, top + 3.5, word, 2.4)]
    return marks


def _legend_caution(
    x: float, y: float, width: float, counts: Mapping[str, int]
) -> list[Mark]:
    size = 2.15
    lines = wrapped(CAUTION, width, size)
    marks: list[Mark] = [
        Text(x, y + 2.95 * number, text, size, "magenta") for number, text in enumerate(lines)]
    if counts:
        said = ", ".join(f"{counts.get(s, 0)} {s}" for s in ("danger", "fault", "caution"))
        marks.append(Text(x, y + 26.4, f"Notices open: {said}", size, "magenta", "bold_oblique"))
    return marks
