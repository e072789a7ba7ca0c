"""What a gesture may use: the open diagram, the scene, and ways to do and to say something.

The window gives one to the view. A test can give one without any window.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Protocol

from app.canvas.scene import SheetScene
from model.diagram import Diagram
from model.edits import Edit


class Desk(Protocol):
    """The place where a gesture works."""

    scene: SheetScene

    @property
    def diagram(self) -> Diagram:
        """Return the diagram as it is now."""

    def do(self, edit: Edit) -> bool:
        """Do an edit as one undo step; say why when it cannot be done, and return False."""

    def choose(self, items: Iterable[str]) -> None:
        """Make these the selection."""

    def say(self, sentence: str) -> None:
        """Tell the person something in the log line."""

    def work(self, component: str, way: str) -> None:
        """Work a switch, breaker or fuse: its next position, when operating."""
