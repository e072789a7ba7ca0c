"""The edits that give parts their places: of the whole sheet, or of the few that have none.

What lays out is imported when it is asked for: a start must not wait for the solver it needs.
"""

from __future__ import annotations

from app.words import _
from model.diagram import Diagram
from model.edits import Edit


def tidy_edit(diagram: Diagram) -> Edit | None:
    """Return the edit that lays out the whole sheet anew, or None when nothing stands on it."""
    if not diagram.components:
        return None
    from app.drawing.tidy.edits import whole_edit

    return whole_edit(diagram, _("Tidy the sheet"))


def layout_edit(diagram: Diagram) -> Edit | None:
    """Return the edit that gives every unplaced component a place, or None when all have one.

    Where some are placed they stay, and the others are placed among them.
    """
    parts = [c for c in diagram.components.values() if c.row_of is None]
    if all(c.at is not None for c in parts):
        return None
    from app.drawing.tidy.edits import few_edit, whole_edit

    if any(c.at is not None for c in parts):
        return few_edit(diagram)
    return whole_edit(diagram, _("Lay out parts"))
