"""Nothing lies on anything: on both demo boats as drawn, and on every boat after a tidy."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, partial
from importlib.resources import files

import pytest

from app.drawing.layout import tidy_edit
from app.drawing.sheet import SheetDrawing, sheet_drawing
from model.diagram import Diagram
from model.edits import apply
from model.storage import load
from tests.boats import BOATS
from tests.overlaps import overlaps

DEMOS = ("weekend_sloop", "steel_cutter")


def demo(name: str) -> Diagram:
    return load(str(files("assets").joinpath("demo", f"{name}.loom")))


def tidied(make: Callable[[], Diagram]) -> Diagram:
    edit = tidy_edit(make())
    assert edit is not None
    return apply(make(), edit)


SHEETS: dict[str, Callable[[], Diagram]] = {
    **{name: partial(demo, name) for name in DEMOS},
    **{f"{name}, tidied": partial(tidied, partial(demo, name)) for name in DEMOS},
    **{f"{name}, tidied": partial(tidied, make) for name, make in BOATS.items()},
}


@cache
def sheet(name: str) -> tuple[Diagram, SheetDrawing]:
    diagram = SHEETS[name]()
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
