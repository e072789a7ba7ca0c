"""Symbols of panels: one framed part with a vertical bus and a row for each way.

The origin is the feed, at the top over the bus, so that ways added at the foot move nothing. The
header is 12 mm high and free for the panel's own lettering; a main device stands in it.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

from msgspec import Struct

from app.drawing.fonts import shortened, text_width_mm
from app.drawing.marks import (
    CAP_HEIGHT,
    Circle,
    Mark,
    Path,
    Rect,
    Text,
    line,
    moved,
)
from app.drawing.symbols.contacts import contact, cross, thermal_step
from app.drawing.symbols.distribution import bar_marks
from app.drawing.symbols.icons import ICON_R_MM, family_icon
from app.drawing.symbols.record import (
    CLOSED,
    Draw,
    Parameters,
    PortPlace,
    Positions,
    Symbol,
    down,
    left,
    made,
    right,
    up,
)
from app.drawing.symbols.shapes import INNER_MM, OUTLINE_MM, box, dot, joined
from model.kinds.distribution import panel_ways

FRAME_LEFT_MM, HEADER_MM, FIRST_ROW_MM = -7.5, 12.0, 15.0
LEAST_RIGHT_MM = 40.0
BUS_MM = 1.8
TEXT_AT_MM = 10.6
LONGEST_LABEL_MM = 48.0  # some forty letters; the schedule has the whole
NAME_MM, FIGURE_MM, NOTE_MM, SMALLEST_MM = 2.4, 2.3, 2.1, 2.0
GAP_MM = 1.2
AC_STROKES_MM = 3.6


class _Style(Struct, frozen=True):
    """What a panel for direct and one for alternating current differ in."""

    line_role: str
    bar_role: str
    bar_pole: str
    pitch_mm: float
    strokes: bool


DC = _Style("positive", "busbar", "+", 5.0, False)
AC = _Style("ac", "ac", "L", 7.5, True)


class _Row(Struct, frozen=True):
    """The lettering of one way, and the family of a load that stands in the row itself."""

    way: str
    device: str
    rated: str
    note: str
    label: str
    role: str | None
    spare: bool

    def figures_width_mm(self) -> float:
        """Return how wide designation and rating are. [mm]."""
        width = text_width_mm(self.way, FIGURE_MM, "bold")
        return width + GAP_MM + text_width_mm(self.rated, FIGURE_MM)

    def note_width_mm(self) -> float:
        """Return how wide the note is, its gap included. [mm]."""
        return text_width_mm(self.note, NOTE_MM, "oblique") + GAP_MM if self.note else 0.0


def _row(way: Mapping[str, Any]) -> _Row:
    rated = way.get("rated_a")
    device = way.get("device", "breaker")
    spare = bool(way.get("spare"))
    unknown = "" if device == "none" or spare else "?"
    return _Row(
        way["id"], device, unknown if rated is None else f"{rated:g} A", way.get("note", ""),
        shortened(way.get("label", "spare" if spare else ""), LONGEST_LABEL_MM, NAME_MM),
        way.get("role"), spare,
    )


def _sign_x(rows: Sequence[_Row], style: _Style) -> float:
    """Return where the family signs stand: past the widest lettering over the lines. [mm]."""
    figures = max(row.figures_width_mm() for row in rows)
    notes = max(row.note_width_mm() for row in rows)
    strokes = AC_STROKES_MM if style.strokes else 0.0
    return TEXT_AT_MM + figures + GAP_MM + notes + strokes + 1.5 + ICON_R_MM


def _right_mm(rows: Sequence[_Row], sign_x: float, parameters: Parameters) -> float:
    wanted = max(LEAST_RIGHT_MM, FRAME_LEFT_MM + parameters.get("width_mm", 0.0))
    for row in rows:
        if row.role is None:
            before = TEXT_AT_MM + row.figures_width_mm() + GAP_MM + row.note_width_mm()
            wanted = max(wanted, before + text_width_mm(row.label, FIGURE_MM) + 2)
        else:
            wanted = max(wanted, sign_x + 3.4 + text_width_mm(row.label, NAME_MM) + 2)
    return math.ceil(wanted / 2.5) * 2.5


def _panel(parameters: Parameters, positions: Positions, style: _Style) -> Symbol:
    rows = [_row(way) for way in panel_ways(parameters)]
    sign_x = _sign_x(rows, style)
    edge = _right_mm(rows, sign_x, parameters)
    last = FIRST_ROW_MM + style.pitch_mm * (len(rows) - 1)
    foot = last + 5.0
    marks: list[Mark] = [box(FRAME_LEFT_MM, 0, edge, foot, 1.25)]
    marks += _feed(parameters, positions, style)
    marks += _bus(last + 2.0, style)
    ports: dict[str, PortPlace] = {"in": up(0, 0)}
    for number, row in enumerate(rows):
        y = FIRST_ROW_MM + style.pitch_mm * number
        marks += _row_marks(row, y, positions.get(row.way, "on"), sign_x, edge, style)
        ports[row.way] = right(edge, y)
    if style is DC:
        marks += _negative(parameters, len(rows), edge, foot, ports)
    return made(marks, ports)


def _bus(foot: float, style: _Style) -> list[Mark]:
    return [Rect(-BUS_MM / 2, HEADER_MM, BUS_MM, foot - HEADER_MM, 0, None, 0.0,
                 style.bar_role)]


def _feed(parameters: Parameters, positions: Positions, style: _Style) -> list[Mark]:
    """Return what stands between the feed and the bus: the main device or a plain line."""
    main = parameters.get("main") or ()
    if not main:
        return [line(0, 0, 0, HEADER_MM, 0.7, style.line_role)]
    device = main[0]
    closed = positions.get("main", "on") in CLOSED
    rated = device.get("rated_a")
    figure = "?" if rated is None else f"{rated:g} A"
    marks: list[Mark] = [line(0, 0, 0, 1, OUTLINE_MM), line(0, 11, 0, HEADER_MM, OUTLINE_MM),
                         Text(-0.8, 10.9, figure, SMALLEST_MM, "ink", "book", "end")]
    if device.get("device") == "fuse":
        drawn = [line(0, -5, 0, 5, OUTLINE_MM), *_cartridge(closed)]
    else:
        drawn = [*contact(closed), *cross(), *thermal_step()]
    return [*marks, *(moved(mark, 0, 6) for mark in drawn)]


def _cartridge(closed: bool) -> list[Mark]:
    dash = () if closed else (0.9, 0.7)
    body = Rect(-1.4, -3, 2.8, 6, 0, "ink", INNER_MM, "body", dash)
    return [body, line(0, -3, 0, 3, INNER_MM)] if closed else [body]


def _row_marks(
    row: _Row, y: float, position: str, sign_x: float, edge: float, style: _Style
) -> list[Mark]:
    """Return one way: its device, its line and lettering, and the load that stands in the row."""
    end = edge if row.role is None else sign_x - ICON_R_MM
    role = style.line_role
    marks: list[Mark] = [line(BUS_MM / 2, y, 2.6, y, INNER_MM, role)]
    if not row.spare:
        marks.append(line(9.4, y, end, y, INNER_MM, role))
    marks += [moved(mark, 0, y) for mark in _device(row.device, position in CLOSED)]
    x = TEXT_AT_MM
    marks.append(Text(x, y - 0.8, row.way, FIGURE_MM, "ink", "bold"))
    x += text_width_mm(row.way, FIGURE_MM, "bold") + GAP_MM
    marks.append(Text(x, y - 0.8, row.rated, FIGURE_MM))
    x += text_width_mm(row.rated, FIGURE_MM) + GAP_MM
    if row.role is None:
        if row.note:
            marks.append(Text(x, y - 0.8, row.note, NOTE_MM, "ink2", "oblique"))
        marks.append(Text(x + row.note_width_mm(), y - 0.8, row.label, FIGURE_MM, "ink2"))
    else:
        marks += _load_in_row(row, y, sign_x, style)
    return [mark for mark in marks if not isinstance(mark, Text) or mark.text]


def _load_in_row(row: _Row, y: float, sign_x: float, style: _Style) -> list[Mark]:
    note_end = sign_x - ICON_R_MM - 1.5
    marks: list[Mark] = []
    if style.strokes:
        for i in range(3):
            x = note_end - 1.2 + 0.9 * i - 0.9
            marks.append(line(x - 0.5, y + 1.1, x + 0.5, y - 1.1, 0.25, style.line_role))
        note_end -= AC_STROKES_MM
    marks.append(Text(note_end, y - 0.8, row.note, NOTE_MM, "ink2", "oblique", "end"))
    marks += family_icon(row.role or "", sign_x, y)
    baseline = y + CAP_HEIGHT * NAME_MM / 2
    marks.append(Text(sign_x + 3.4, baseline, row.label, NAME_MM, "ink"))
    return marks


def _device(device: str, closed: bool) -> list[Mark]:
    """Return a way's device along its line, from 2.6 to 9.4."""
    if device == "none":
        return [line(2.6, 0, 9.4, 0, INNER_MM)]
    if device == "fuse":
        dash = () if closed else (0.9, 0.7)
        body = Rect(3.4, -1.1, 5.2, 2.2, 0, "ink", INNER_MM, "body", dash)
        inner = [line(2.6, 0, 9.4, 0, INNER_MM)] if closed else []
        return [line(2.6, 0, 3.4, 0, INNER_MM), line(8.6, 0, 9.4, 0, INNER_MM), body, *inner]
    if device == "fuse_and_switch":
        return [*_small_contact(2.9, 6.0, closed), line(6.4, 0, 9.4, 0, INNER_MM),
                Rect(7.0, -0.9, 2.2, 1.8, 0, "ink", INNER_MM)]
    return [*_small_contact(3.4, 8.3, closed), *_small_cross(3.4)]


def _small_contact(fixed_x: float, hinge_x: float, closed: bool) -> list[Mark]:
    tip = (fixed_x, 0.0) if closed else (fixed_x + 0.6, -0.48 * (hinge_x - fixed_x))
    return [line(2.6, 0, fixed_x, 0, INNER_MM), line(hinge_x, 0, 9.4, 0, INNER_MM),
            Path(((hinge_x, 0.0), tip), "ink", 0.75),
            Circle(hinge_x, 0, 0.55, "ink", INNER_MM, "body")]


def _small_cross(x: float) -> list[Mark]:
    return [line(x - 0.8, way * -0.8, x + 0.8, way * 0.8, INNER_MM) for way in (1, -1)]


def _negative(
    parameters: Parameters, ways: int, edge: float, foot: float, ports: dict[str, PortPlace]
) -> list[Mark]:
    """Place the negative terminal, on a bar of the panel's own where it has one."""
    if not parameters.get("negative_bar"):
        ports["-"] = down(-5, foot)
        return [line(-5.7, foot - 1.6, -4.3, foot - 1.6, INNER_MM)]
    y = foot + 5.0
    ports["-"] = left(FRAME_LEFT_MM, y)
    studs = min(ways, int((edge - 2.5) // 5))
    return list(joined(bar_marks(FRAME_LEFT_MM, edge, y, 2.2, "-"),
                       [dot(2.5 + 5 * i, y, 0.55) for i in range(studs)]))


def dc_panel(parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a panel for direct current."""
    return _panel(parameters, positions, DC)


def fuse_block(parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a block of fuses; one without a list of ways has plain fuses."""
    return _panel({**parameters, "ways": panel_ways(parameters, "fuse_block")}, positions, DC)


def ac_panel(parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a panel for alternating current."""
    return _panel(parameters, positions, AC)


SYMBOLS: dict[str, Draw] = {"panel": dc_panel, "fuse_block": fuse_block, "ac_panel": ac_panel}
