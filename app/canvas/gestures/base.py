"""What every gesture has."""

from __future__ import annotations

from msgspec import Struct

from app.canvas.desk import Desk
from app.drawing.marks import Point


class Pointer(Struct, frozen=True):
    """Where the pointer is on the sheet, and which keys are held. [mm]."""

    x: float
    y: float
    add: bool = False

    @property
    def at(self) -> Point:
        """Return the point."""
        return (self.x, self.y)


class Gesture:
    """A drag or click from press to release; Escape cancels it at any time."""

    def __init__(self, desk: Desk, start: Pointer) -> None:
        self.desk = desk
        self.start = start

    def move(self, pointer: Pointer) -> None:
        """Follow the pointer with a preview."""

    def end(self, pointer: Pointer) -> None:
        """Finish: build the edit and do it."""

    def cancel(self) -> None:
        """Leave everything as it was."""
        self.desk.scene.preview(())
