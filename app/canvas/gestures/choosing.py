"""Choosing by click and by rubber band."""

from __future__ import annotations

from app.canvas.gestures.base import Gesture, Pointer
from app.drawing.marks import Box, Rect


class RubberBand(Gesture):
    """Draw a box round things to choose them; a click on nothing chooses nothing."""

    def move(self, pointer: Pointer) -> None:
        """Show the band."""
        box = self._box(pointer)
        band = Rect(box.x0, box.y0, box.w, box.h, 0, "selection", 0.3, None, (1.5, 1.0))
        self.desk.scene.preview((band,))

    def end(self, pointer: Pointer) -> None:
        """Choose what lies inside."""
        self.cancel()
        found = self.desk.scene.inside(self._box(pointer))
        already = self.desk.scene.selection if pointer.add else frozenset()
        self.desk.choose(already | found)

    def _box(self, pointer: Pointer) -> Box:
        return Box(min(self.start.x, pointer.x), min(self.start.y, pointer.y),
                   max(self.start.x, pointer.x), max(self.start.y, pointer.y))
