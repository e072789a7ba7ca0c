"""A diagram with every component somewhere on the sheet: as opened, printed or exported."""

from __future__ import annotations

from app.drawing.layout import layout_edit
from model.diagram import Diagram
from model.edits import apply


def laid_out(diagram: Diagram) -> Diagram:
    """Return the diagram, laid out where components have no place yet."""
    edit = layout_edit(diagram)
    return diagram if edit is None else apply(diagram, edit)
