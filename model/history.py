"""Undo and redo: steps done to a diagram, and steps taken back.

The workspace and the recovery of a journal share this one stack, so that what a crash gives back
has the same steps as what was lost.
"""

from __future__ import annotations

from msgspec import Struct

from model.diagram import Diagram
from model.edits import Edit, apply, merge

MOST_STEPS = 1_000


class Step(Struct, frozen=True):
    """One undo step: the edit, the diagram it started from and the one it led to."""

    edit: Edit
    before: Diagram
    after: Diagram


class History:
    """A diagram with the steps that led to it."""

    def __init__(self, diagram: Diagram) -> None:
        self.diagram = diagram
        self.done: list[Step] = []
        self.undone: list[Step] = []

    def do(self, edit: Edit) -> None:
        """Apply an edit as one step, joined with the last one when both have one merge key.

        Raise ModelError, and nothing was done, when the edit does not fit.
        """
        after = apply(self.diagram, edit)
        last = self.done[-1] if self.done else None
        if last is not None and edit.merge_key and last.edit.merge_key == edit.merge_key:
            self.done[-1] = Step(merge(last.edit, edit), last.before, after)
        else:
            self.done.append(Step(edit, self.diagram, after))
            del self.done[:-MOST_STEPS]
        self.undone.clear()
        self.diagram = after

    def undo(self) -> Step | None:
        """Take the newest step back and return it, or None when there is none."""
        if not self.done:
            return None
        step = self.done.pop()
        self.undone.append(step)
        self.diagram = step.before
        return step

    def redo(self) -> Step | None:
        """Do the step taken back last again and return it, or None when there is none."""
        if not self.undone:
            return None
        step = self.undone.pop()
        self.done.append(step)
        self.diagram = step.after
        return step
