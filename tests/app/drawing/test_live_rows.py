"""Panels when operating: live rows carry a band, rows behind an open breaker step back."""

from __future__ import annotations

from importlib.resources import files

import pytest

from app.drawing.marks import Path, Text, flat
from app.drawing.sheet import SheetDrawing, SheetLook, sheet_drawing
from app.live_looks import live_looks
from model.storage import load
from model.survey import Survey

DEMO = str(files("assets").joinpath("demo", "steel_cutter.loom"))


@pytest.fixture(scope="module")
def operated() -> SheetDrawing:
    """The cutter with one way of the main panel switched off."""
    diagram, positions = load(DEMO), {"P1.F34": "off"}
    looks = live_looks(diagram, Survey(diagram).live(positions))
    return sheet_drawing(diagram, SheetLook(positions, looks))


def row_marks(operated: SheetDrawing, load_id: str) -> list[object]:
    y = operated.rows[load_id].y0 + 3.0
    return [mark for mark in flat(operated.items["rows:P1"].marks)
            if isinstance(mark, Path) and all(abs(point[1] - y) < 0.1 for point in mark.points)]


def test_a_live_row_carries_the_band_of_its_source(operated: SheetDrawing):
    assert any(mark.role.startswith("band_") for mark in row_marks(operated, "E31"))


def test_a_row_behind_an_open_breaker_has_no_band_and_is_grey(operated: SheetDrawing):
    assert {mark.role for mark in row_marks(operated, "E34")} == {"dead"}
    names = {mark.text: mark.role for mark in flat(operated.items["rows:P1"].marks)
             if isinstance(mark, Text)}
    assert names["Navigation lights, low"] == "dead_text"


def test_rows_are_plain_while_drawing():
    assert "rows:P1" not in sheet_drawing(load(DEMO)).items
