"""Placing a part, and drawing a conductor from one terminal to another."""

from __future__ import annotations

from app.canvas.desk import Desk
from app.canvas.gestures.base import Gesture, Pointer
from app.drafting.parts import new_component, place_edit
from app.drafting.wires import connect_edit
from app.drawing.marks import Circle, Mark, Path, Point
from app.drawing.placing import placed_part
from app.drawing.routing import RouteEnd, route, snapped
from model.errors import ModelError

RING_R_MM = 1.9


class PlacePart(Gesture):
    """Put down a part of the armed kind where the pointer is let go."""

    def __init__(self, desk: Desk, start: Pointer, kind: str, turn: int = 0) -> None:
        super().__init__(desk, start)
        self.kind = kind
        self.turn = turn

    def move(self, pointer: Pointer) -> None:
        """Show the part as a ghost."""
        component = new_component(self.desk.diagram, self.kind, pointer.at, self.turn)
        part = placed_part(component)
        if part is not None:
            self.desk.scene.preview((part.group,))

    def end(self, pointer: Pointer) -> None:
        """Place it and choose it."""
        self.cancel()
        edit = place_edit(self.desk.diagram, self.kind, pointer.at, self.turn)
        if self.desk.do(edit):
            self.desk.choose({edit.changes[0].id})


class Connect(Gesture):
    """Draw a conductor: press on a terminal and let go on another, or click both."""

    def __init__(self, desk: Desk, start: Pointer, port: tuple[str, str]) -> None:
        super().__init__(desk, start)
        self.port = port
        self.target: tuple[str, str] | None = None
        self.last: Point | None = None
        desk.say(f"Connect {port[0]}, {port[1]}: go to another terminal")

    def move(self, pointer: Pointer) -> None:
        """Show the conductor to where the pointer is, and the terminal it would take."""
        at = (snapped(pointer.x), snapped(pointer.y))
        if at == self.last:
            return
        self.last = at
        scene = self.desk.scene
        target = scene.port_at(pointer.at)
        self.target = None if target == self.port else target
        start = scene.drawing.parts[self.port[0]].port(self.port[1])
        finish = RouteEnd(at)
        if self.target is not None:
            finish = scene.drawing.parts[self.target[0]].port(self.target[1])
        marks: list[Mark] = [Path(route(start, finish), "selection", 0.6)]
        for end in (start, finish) if self.target else (start,):
            marks.append(Circle(*end.at, RING_R_MM, "selection", 0.4))
        scene.preview(marks)

    def end(self, pointer: Pointer) -> None:
        """Connect, or say why not."""
        self.last = None
        self.move(pointer)
        self.cancel()
        if self.target is None:
            self.desk.say("No terminal there; nothing was connected.")
            return
        try:
            edit = connect_edit(self.desk.diagram, self.port, self.target)
        except ModelError as error:
            self.desk.say(error.sentence)
            return
        if self.desk.do(edit):
            self.desk.choose({edit.changes[0].id})
