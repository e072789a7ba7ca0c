"""Working switches, breakers and fuses by click."""

from __future__ import annotations

from app.canvas.desk import Desk
from app.canvas.gestures.base import Gesture, Pointer
from app.words import _
from model.kinds import kind_of

ROW_REACH_MM = 2.6


class WorkSwitch(Gesture):
    """Click a switch to give it its next position."""

    def __init__(self, desk: Desk, start: Pointer, part: str) -> None:
        super().__init__(desk, start)
        self.part = part

    def end(self, pointer: Pointer) -> None:
        """Work what is under the pointer."""
        self.desk.choose({self.part})
        way = handle_at(self.desk, self.part, pointer)
        if way is None:
            self.desk.say(_("{part} has nothing to switch there.").format(part=self.part))
            return
        self.desk.work(self.part, way)


def handle_at(desk: Desk, part: str, pointer: Pointer) -> str | None:
    """Return the id of the handle under the pointer: the only one, or that of a panel's row."""
    component = desk.diagram.components[part]
    handles = [handle.id for handle in kind_of(component).handles(component.parameters)]
    if handles == [""]:
        return ""
    ports = desk.scene.drawing.parts[part].ports
    rows = [(abs(ports[way].at[1] - pointer.y), way) for way in handles if way in ports]
    if rows and min(rows)[0] <= ROW_REACH_MM:
        return min(rows)[1]
    return "main" if "main" in handles else None
