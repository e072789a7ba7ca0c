"""Places: drawn as a rectangle, moved with their parts, sized by their corners and edges."""

from __future__ import annotations

from app.canvas.desk import Desk
from app.canvas.gestures.base import Gesture, Pointer
from app.drafting.places import (
    box_on_grid,
    inner_places,
    members,
    move_place_edit,
    new_place_edit,
    outline_of,
    size_place_edit,
)
from app.drawing.marks import Box, Mark, Path, Point, Rect, Text
from app.drawing.place_handles import handles, outline_box
from app.drawing.routing import snapped

DASH = (1.5, 1.0)
WORDS_MM = 2.4


class DrawPlace(Gesture):
    """Draw a place as a rectangle; the parts in it belong to it."""

    def move(self, pointer: Pointer) -> None:
        """Show the rectangle and its size."""
        self.desk.scene.preview(_box_marks(box_on_grid(self.start.at, pointer.at)))

    def end(self, pointer: Pointer) -> None:
        """Draw it and choose it, so that it can be named."""
        self.cancel()
        edit = new_place_edit(self.desk.diagram, box_on_grid(self.start.at, pointer.at))
        if self.desk.do(edit):
            self.desk.choose({edit.changes[0].id})


class SizePlace(Gesture):
    """Drag a corner or an edge of a place; the opposite one stays."""

    def __init__(self, desk: Desk, start: Pointer, place: str, handle: int) -> None:
        super().__init__(desk, start)
        self.place = place
        box = outline_box(desk.scene.drawing.places[place].outline)
        self.anchor, self.free = _held_and_free(box, handle)
        self.has_moved = False

    def move(self, pointer: Pointer) -> None:
        """Show the rectangle as it would be."""
        self.has_moved = True
        self.desk.scene.preview(_box_marks(self._box(pointer)), {self.place})

    def end(self, pointer: Pointer) -> None:
        """Give the place that size."""
        self.cancel()
        if self.has_moved:
            self.desk.do(size_place_edit(self.desk.diagram, self.place, self._box(pointer)))

    def _box(self, pointer: Pointer) -> Box:
        x = pointer.x if self.free[0] is None else self.free[0]
        y = pointer.y if self.free[1] is None else self.free[1]
        return box_on_grid(self.anchor, (x, y))


def _held_and_free(box: Box, handle: int) -> tuple[Point, tuple[float | None, float | None]]:
    """Return the corner that stays, and the far side: None where it follows the pointer."""
    x, y = handles(outline_of(box))[handle]
    middle_x, middle_y = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
    held = (box.x1 if x < middle_x else box.x0, box.y1 if y < middle_y else box.y0)
    return held, (box.x1 if x == middle_x else None, box.y1 if y == middle_y else None)


class MovePlace(Gesture):
    """Drag a place by its edge or name: the places in it and their parts come along."""

    def __init__(self, desk: Desk, start: Pointer, place: str) -> None:
        super().__init__(desk, start)
        desk.choose(desk.scene.selection | {place} if start.add else {place})
        self.place = place
        self.step: Point = (0.0, 0.0)
        self.inner = inner_places(desk.diagram, place) | {place}
        self.members = members(desk.diagram, place)
        self.wires = [wire.id for wire in desk.diagram.conductors.values()
                      if wire.id in desk.scene.drawing.paths
                      and {end.component for end in wire.ends()} <= self.members]
        self.is_carrying = False

    def move(self, pointer: Pointer) -> None:
        """Show the place and its parts where they would come to stand."""
        step = (snapped(pointer.x - self.start.x), snapped(pointer.y - self.start.y))
        if step == self.step:
            return
        self.step = step
        if not self.is_carrying:
            self.is_carrying = True
            self.desk.scene.carry(self._carried())
        self.desk.scene.preview((), self.members | self.inner | {*self.wires}, step)

    def _carried(self) -> list[Mark]:
        drawing = self.desk.scene.drawing
        marks: list[Mark] = [
            Path(drawing.places[item].outline, "selection", 0.35, DASH, closed=True)
            for item in self.inner if item in drawing.places]
        marks += [Path(drawing.paths[item], "selection", 0.35) for item in self.wires]
        marks += [drawing.parts[item].group for item in sorted(self.members)
                  if item in drawing.parts]
        return marks

    def end(self, pointer: Pointer) -> None:
        """Move them as one step."""
        self.move(pointer)
        self.cancel()
        if self.step != (0.0, 0.0):
            self.desk.do(move_place_edit(self.desk.diagram, self.place, *self.step))


def _box_marks(box: Box) -> list[Mark]:
    words = Text(box.x0 + 2.0, box.y0 + 4.0, f"{box.w:g} × {box.h:g} mm", WORDS_MM, "selection")
    return [Rect(box.x0, box.y0, box.w, box.h, 0, "selection", 0.35, None, DASH),
            words]
