"""What stands on a sheet without parts: a pale rose and how to begin."""

from __future__ import annotations

from msgspec.structs import replace

from app.drawing.frame import drawing_area, rose
from app.drawing.marks import Mark, Text, moved
from model.diagram import Sheet

WORDS = (
    "Take a part from the Locker and put it on the sheet.",
    "Go from terminal to terminal to connect.",
    "Or open a demo boat from the menu, File.",
)


def empty_marks(sheet: Sheet) -> tuple[Mark, ...]:
    """Return the marks for the middle of an empty sheet."""
    area = drawing_area(sheet)
    x, y = (area.x0 + area.x1) / 2, (area.y0 + area.y1) / 2 - 14
    lines = (Text(x, y + 44 + 9.0 * number, text, 6.4, "ink2", "book", "middle")
             for number, text in enumerate(WORDS))
    return (*(_pale(moved(mark, x, y)) for mark in rose(56.0)), *lines)


def _pale(mark: Mark) -> Mark:
    roles = {name: "rule" for name in ("role", "fill") if getattr(mark, name, None) == "ink"}
    return replace(mark, **roles) if roles else mark
