"""Nothing lies on anything: on both demo boats as drawn, and on every boat after a tidy."""

from __future__ import annotations

from functools import cache

import pytest

from app.drawing.sheet import SheetDrawing, sheet_drawing
from model.diagram import Diagram
from tests.boats import BOATS
from tests.overlaps import overlaps
from tests.tidied import DEMOS, as_drawn, tidied

SHEETS = (*DEMOS, *(f"{name}, tidied" for name in (*DEMOS, *BOATS)))


@cache
def sheet(title: str) -> tuple[Diagram, SheetDrawing]:
    name, _, after = title.partition(", ")
    diagram = tidied(name) if after else as_drawn(name)
    return diagram, sheet_drawing(diagram)


@pytest.mark.parametrize("name", SHEETS)
def test_nothing_lies_on_anything_or_outside_the_frame(name: str) -> None:
    assert overlaps(*sheet(name)) == []


@pytest.mark.parametrize("name", SHEETS)
def test_every_part_is_lettered(name: str) -> None:
    _, drawing = sheet(name)
    silent = [item for item, part in drawing.parts.items()
              if item not in drawing.labels and part.component.kind != "stud"]
    assert silent == []
