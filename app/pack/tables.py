"""Tables on framed pages: columns by share of the width, cells wrapped, rows never split."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct, field

from app.drawing.fonts import wrapped
from app.drawing.frame import ROW_H, border_marks, frame_box, sheet_size_mm, title_strip
from app.drawing.marks import Box, Mark, Target, Text, line
from app.drawing.painters.pdf import Page
from model.diagram import BoatInfo

TEXT_MM, HEAD_MM = 2.5, 2.3
BADGE_ROW_MM = 8.0  # a badge of 6.6 with some air
PITCH_MM, PADDING_MM = 3.3, 1.3


class Column(Struct, frozen=True):
    """A column: its title, its share of the width, and the face of its cells."""

    title: str
    share: float
    face: str = "book"


class Row(Struct, frozen=True):
    """A row of cells. `item` ties it to a mark on the diagram; `marks` are drawn at its left."""

    cells: tuple[str, ...]
    item: str = ""
    marks: tuple[Mark, ...] = field(default=())


class Table(Struct, frozen=True):
    """A titled table with a line of words under the title and one below the last row."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    words: str = ""
    after: str = ""


def table_pages(table: Table, boat: BoatInfo, paper: str) -> list[Page]:
    """Return the pages of a table; the sheet numbers are filled in when the pack is whole."""
    frame = frame_box(paper)
    area = Box(frame.x0 + 6, frame.y0 + 6, frame.x1 - 6, frame.y1 - ROW_H - 4)
    pages: list[Page] = []
    rows = list(table.rows)
    first = True
    while rows or first:
        marks, rows = _page(table, rows, area, first)
        marks += border_marks(paper) + title_strip(paper, boat, table.title, "")
        pages.append(Page(sheet_size_mm(paper), tuple(marks), table.title, 0 if first else 1))
        first = False
    return pages


def _page(
    table: Table, rows: Sequence[Row], area: Box, first: bool
) -> tuple[list[Mark], list[Row]]:
    """Return the marks of one page and the rows that are left over."""
    title = table.title if first else f"{table.title}, continued"
    marks: list[Mark] = [Text(area.x0, area.y0 + 4.5, title, 4.4, "ink", "title")]
    y = area.y0 + 9.0
    if first and table.words:
        for text in wrapped(table.words, area.w, TEXT_MM):
            marks.append(Text(area.x0, y, text, TEXT_MM, "ink2"))
            y += PITCH_MM
        y += 1.0
    marks += _header(table.columns, area, y)
    y += 5.2
    left = list(rows)
    while left:
        row = left[0]
        cells = _cells(table.columns, row, area.w)
        height = max(max(len(lines) for lines in cells), 1) * PITCH_MM + 2 * PADDING_MM
        height = max(height, BADGE_ROW_MM) if row.marks else height
        if y + height > area.y1:
            break
        marks += _row_marks(table.columns, row, cells, area, y, height)
        y += height
        left.pop(0)
    if not left and table.after:
        for text in wrapped(table.after, area.w, TEXT_MM):
            y += PITCH_MM + 0.6
            marks.append(Text(area.x0, y, text, TEXT_MM, "ink2", "oblique"))
    return marks, left


def _header(columns: Sequence[Column], area: Box, y: float) -> list[Mark]:
    marks: list[Mark] = [line(area.x0, y + 4.4, area.x1, y + 4.4, 0.5),
                         line(area.x0, y - 0.6, area.x1, y - 0.6, 0.25)]
    x = area.x0
    for column in columns:
        marks.append(Text(x + 0.8, y + 2.9, column.title, HEAD_MM, "ink", "bold"))
        x += column.share * area.w
    return marks


def _cells(columns: Sequence[Column], row: Row, width: float) -> list[list[str]]:
    return [
        wrapped(cell, column.share * width - 2.0, TEXT_MM, column.face)  # type: ignore[arg-type]
        for column, cell in zip(columns, row.cells, strict=True)
    ]


def _row_marks(
    columns: Sequence[Column], row: Row, cells: Sequence[Sequence[str]], area: Box, y: float,
    height: float,
) -> list[Mark]:
    from app.drawing.marks import moved

    marks: list[Mark] = [line(area.x0, y + height, area.x1, y + height, 0.18, "hair")]
    if row.item:
        marks.append(Target(Box(area.x0, y, area.x1, y + height), name=f"row-{row.item}",
                            goes_to=f"on-sheet-{row.item}"))
    marks += [moved(mark, area.x0 + 4, y + height / 2) for mark in row.marks]
    x = area.x0
    for column, lines in zip(columns, cells, strict=True):
        for number, text in enumerate(lines):
            baseline = y + PADDING_MM + (number + 0.76) * PITCH_MM
            face = column.face
            marks.append(Text(x + 0.8, baseline, text, TEXT_MM, "ink", face))  # type: ignore[arg-type]
        x += column.share * area.w
    return marks
