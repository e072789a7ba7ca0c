"""Moving parts with their conductors, a leg of a conductor, or a label."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from app.canvas.desk import Desk
from app.canvas.gestures.base import Gesture, Pointer
from app.canvas.gestures.drawing import say_lengths
from app.canvas.gestures.fitting import Fitting
from app.drafting.inserting import Gap, insert_edit, is_loose
from app.drafting.labels import label_edit
from app.drafting.parts import move_edit
from app.drafting.wires import bend_edit, leg_moved
from app.drawing.conductors import conductor_marks, is_drawn, look_of
from app.drawing.marks import Mark, Path, Point, moved
from app.drawing.placing import PlacedPart
from app.drawing.routing import RouteEnd, route, snapped, with_ends_moved
from model.diagram import Conductor

THRESHOLD_MM = 1.0


class MoveParts(Gesture):
    """Drag the chosen parts; their conductors follow by quick routes until the release."""

    def __init__(self, desk: Desk, start: Pointer, part: str) -> None:
        super().__init__(desk, start)
        chosen = desk.scene.selection
        if part not in chosen:
            chosen = chosen | {part} if start.add else frozenset({part})
            desk.choose(chosen)
        elif start.add:
            chosen = chosen - {part}
            desk.choose(chosen)
        self.items = frozenset(item for item in chosen if item in desk.scene.drawing.parts)
        self.wires = [
            wire for wire in desk.diagram.conductors.values()
            if is_drawn(wire, desk.scene.drawing.parts)
            and {end.component for end in wire.ends()} & self.items
        ]
        self.step: Point = (0.0, 0.0)
        self.is_carrying = False
        self.gap: Gap | None = None
        self.fitting = self._fitting()

    def _fitting(self) -> Fitting | None:
        """Return what finds a conductor to fit the part into: for one part that is not in one."""
        if len(self.items) != 1:
            return None
        (component,) = (self.desk.diagram.components[item] for item in self.items)
        return Fitting(self.desk, component) if is_loose(self.desk.diagram, component) else None

    def move(self, pointer: Pointer) -> None:
        """Show the parts where they would come to stand."""
        step = (snapped(pointer.x - self.start.x), snapped(pointer.y - self.start.y))
        if step == self.step:
            return
        self.step = step
        if step == (0.0, 0.0):
            self.cancel()
            return
        if self._shows_gap():
            return
        drawing = self.desk.scene.drawing
        if not self.is_carrying:
            self.is_carrying = True
            self.desk.scene.carry(self._carried())
        wires = [_moved_wire(wire, drawing.parts, self.items, step, drawing.paths[wire.id])
                 for wire in self.wires]
        self.desk.scene.preview(wires, self.items | {wire.id for wire in self.wires}, step)

    def _shows_gap(self) -> bool:
        """Show the gap the part would make in the conductor it is held over, if there is one."""
        if self.fitting is None:
            return False
        (item,) = self.items
        at = self.desk.diagram.components[item].at
        assert at is not None
        self.gap = self.fitting.gap_at((at[0] + self.step[0], at[1] + self.step[1]))
        if self.gap is None:
            return False
        self.desk.scene.preview(self.fitting.marks(self.gap), {item, self.gap.conductor})
        return True

    def _carried(self) -> Iterable[Mark]:
        """Yield what moves as it is: the parts and their lettering."""
        drawing = self.desk.scene.drawing
        for item in self.items:
            yield drawing.parts[item].group
            label = drawing.labels.get(item)
            yield from label.texts if label else ()

    def end(self, pointer: Pointer) -> None:
        """Do the move as one step."""
        self.move(pointer)
        self.cancel()
        if self.step == (0.0, 0.0):
            self._choose_row(pointer)
        elif self.gap is not None:
            self._insert(self.gap)
        elif self.items:
            self.desk.do(move_edit(self.desk.diagram, self.items, *self.step))

    def _insert(self, gap: Gap) -> None:
        (item,) = self.items
        component = self.desk.diagram.components[item]
        if self.desk.do(insert_edit(self.desk.diagram, component, gap)):
            say_lengths(self.desk, item)

    def _choose_row(self, pointer: Pointer) -> None:
        """After a click on a panel's row choose the load that is drawn there."""
        load = self.desk.scene.load_in_row_at(pointer.at)
        if load is not None and not self.start.add:
            self.desk.choose({load})


def _moved_wire(
    wire: Conductor, parts: Mapping[str, PlacedPart], items: frozenset[str], step: Point,
    path: tuple[Point, ...],
) -> Mark:
    """Return one line for a conductor whose ends move: shifted, stretched or quickly routed."""
    ends = []
    for end in wire.ends():
        at = parts[end.component].port(end.terminal)
        if end.component in items:
            at = RouteEnd((at.at[0] + step[0], at.at[1] + step[1]), at.direction)
        ends.append(at)
    look = look_of(wire)
    if all(end.component in items for end in wire.ends()):
        points: tuple[Point, ...] = tuple((x + step[0], y + step[1]) for x, y in path)
    elif wire.path is not None and wire.path.by_hand:
        points = with_ends_moved(path, ends[0], ends[1]) or route(ends[0], ends[1])
    else:
        points = route(ends[0], ends[1])
    return Path(points, look.role, look.width_mm, look.dash)


class BendLeg(Gesture):
    """Drag one leg of a conductor sideways: its bends are then by hand and are kept."""

    def __init__(self, desk: Desk, start: Pointer, conductor: str, leg: int) -> None:
        super().__init__(desk, start)
        chosen = desk.scene.selection | {conductor} if start.add else {conductor}
        desk.choose(chosen)
        self.conductor = conductor
        self.leg = leg
        self.points: tuple[Point, ...] | None = None

    def move(self, pointer: Pointer) -> None:
        """Show the bent conductor."""
        far = max(abs(pointer.x - self.start.x), abs(pointer.y - self.start.y))
        if self.points is None and far < THRESHOLD_MM:
            return
        path = self.desk.scene.drawing.paths[self.conductor]
        self.points = leg_moved(path, self.leg, pointer.at)
        wire = self.desk.diagram.conductors[self.conductor]
        self.desk.scene.preview(conductor_marks(wire, self.points), {self.conductor})

    def end(self, pointer: Pointer) -> None:
        """Keep the bend."""
        self.move(pointer)
        self.cancel()
        if self.points is not None:
            self.desk.do(bend_edit(self.desk.diagram, self.conductor, self.points))


class MoveLabel(Gesture):
    """Drag lettering somewhere else; there it stays."""

    def __init__(self, desk: Desk, start: Pointer, item: str) -> None:
        super().__init__(desk, start)
        desk.choose({item})
        self.item = item
        self.has_moved = False

    def move(self, pointer: Pointer) -> None:
        """Show the lettering under the pointer."""
        step = (pointer.x - self.start.x, pointer.y - self.start.y)
        if max(abs(step[0]), abs(step[1])) < THRESHOLD_MM and not self.has_moved:
            return
        self.has_moved = True
        label = self.desk.scene.drawing.labels[self.item]
        self.desk.scene.preview([moved(text, *step) for text in label.texts])

    def end(self, pointer: Pointer) -> None:
        """Leave the lettering there."""
        self.move(pointer)
        self.cancel()
        if not self.has_moved:
            return
        step = (pointer.x - self.start.x, pointer.y - self.start.y)
        drawing = self.desk.scene.drawing
        self.desk.do(label_edit(self.desk.diagram, drawing, self.item, step))
