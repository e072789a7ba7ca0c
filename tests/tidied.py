"""The demo boats and the invented ones laid out by a tidy, each once for all tests."""

from __future__ import annotations

from functools import cache
from importlib.resources import files

from app.drawing.layout import tidy_edit
from model.diagram import Diagram
from model.edits import apply
from model.storage import load
from tests.boats import BOATS

DEMOS = ("weekend_sloop", "steel_cutter")


def as_drawn(name: str) -> Diagram:
    """A demo as it is shipped, or a boat as it is built."""
    if name in DEMOS:
        return load(str(files("assets").joinpath("demo", f"{name}.loom")))
    return BOATS[name]()


@cache
def tidied(name: str) -> Diagram:
    """The same after a tidy."""
    diagram = as_drawn(name)
    edit = tidy_edit(diagram)
    assert edit is not None
    return apply(diagram, edit)
