"""Placing a part, and drawing a conductor from one terminal to another."""

from __future__ import annotations

from app.canvas.desk import Desk
from app.canvas.gestures.base import Gesture, Pointer
from app.canvas.gestures.fitting import Fitting
from app.canvas.scene import SheetScene
from app.drafting.bar_studs import OnBar, bar_anchor
from app.drafting.branching import Anchor, OnWire, join_edit, lost_edit, new_wire
from app.drafting.inserting import insert_edit, pieces_beside
from app.drafting.parts import new_component, place_edit
from app.drawing.marks import Circle, Mark, Path, Point
from app.drawing.placing import placed_part
from app.drawing.routing import RouteEnd, route, snapped
from app.words import _, decimal
from model.errors import ModelError

RING_R_MM = 1.9
STUD_R_MM = 1.1
LOST_FROM_MM = 5.0  # a conductor this short was a slip of the hand


class PlacePart(Gesture):
    """Put down a part of the armed kind where the pointer is let go."""

    def __init__(self, desk: Desk, start: Pointer, kind: str, turn: int = 0) -> None:
        super().__init__(desk, start)
        self.kind = kind
        self.turn = turn
        self.component = new_component(desk.diagram, kind, start.at, turn)
        self.fitting = Fitting(desk, self.component)

    def move(self, pointer: Pointer) -> None:
        """Show the part as a ghost; over a conductor it would fit into, the gap it makes."""
        gap = self.fitting.gap_at(pointer.at)
        if gap is not None:
            self.desk.scene.preview(self.fitting.marks(gap), {gap.conductor})
            return
        at = (snapped(pointer.x), snapped(pointer.y))
        part = placed_part(self.component.replaced(at=at, turn=self.turn))
        if part is not None:
            self.desk.scene.preview((part.group,))

    def end(self, pointer: Pointer) -> None:
        """Place it, or fit it into the conductor under it, and choose it."""
        gap = self.fitting.gap_at(pointer.at)
        self.cancel()
        if gap is not None:
            edit = insert_edit(self.desk.diagram, self.component, gap)
        else:
            edit = place_edit(self.desk.diagram, self.kind, pointer.at, self.turn)
        if self.desk.do(edit):
            self.desk.choose({self.component.id})
            if gap is not None:
                say_lengths(self.desk, self.component.id)
            else:
                self.desk.say(_("{part} stands on the sheet. Drag from one of its terminals to "
                                "connect it.").format(part=self.component.id))


class Connect(Gesture):
    """Draw a conductor: press on a terminal and let go on another, or click both.

    Let go on a conductor it branches off there; it may begin on one too. Let go anywhere on a bar
    it takes the nearest free stud, or one more. Let go on empty sheet it
    ends there, untraced; drawn on from such an end it goes where it was traced to.
    """

    def __init__(self, desk: Desk, start: Pointer, anchor: Anchor) -> None:
        super().__init__(desk, start)
        self.anchor = anchor
        self.target: Anchor | None = None
        self.last: Point | None = None
        if not isinstance(anchor, OnWire | OnBar):
            desk.choose({anchor[0]})  # a stud is all terminal: this is how one is chosen
        desk.say(_("Connect {anchor}: go to another terminal, or onto a conductor").format(
            anchor=_words(anchor)))

    def move(self, pointer: Pointer) -> None:
        """Show the conductor to where the pointer is, and what it would take there."""
        at = (snapped(pointer.x), snapped(pointer.y))
        if at == self.last:
            return
        self.last = at
        self.target = self._anchor_at(pointer.at)
        start, finish = self._route_end(self.anchor), RouteEnd(at)
        if self.target is not None:
            finish = self._route_end(self.target)
        marks: list[Mark] = [Path(route(start, finish), "selection", 0.6)]
        for anchor in (self.anchor, self.target):
            if isinstance(anchor, OnWire | OnBar):
                marks.append(Circle(*anchor.at(), STUD_R_MM, None, fill="selection"))
            elif anchor is not None:
                marks.append(Circle(*self._route_end(anchor).at, RING_R_MM, "selection", 0.4))
        if self._is_lost(pointer.at):
            marks.append(Circle(*at, RING_R_MM, "selection", 0.4, "body", dash=(0.9, 0.6)))
        self.desk.scene.preview(marks)

    def _is_lost(self, at: Point) -> bool:
        """Say whether a point is empty sheet, well away from where the conductor begins."""
        scene = self.desk.scene
        if self.target is not None or scene.part_at(at) or scene.port_at(at):
            return False
        return scene.conductor_at(at) is None and max(
            abs(at[0] - self.start.x), abs(at[1] - self.start.y)) >= LOST_FROM_MM

    def _anchor_at(self, at: Point) -> Anchor | None:
        """Return the terminal under a point, else the place on a bar or conductor, else None."""
        scene = self.desk.scene
        port = scene.port_at(at)
        if port is not None:
            return None if port == self.anchor else port
        part = scene.part_at(at)
        if part is not None:
            return bar_anchor(self.desk.diagram, part, at) if part != self._own_part() else None
        found = on_wire_at(scene, at)
        own = self.anchor.conductor if isinstance(self.anchor, OnWire) else None
        return None if found is None or found.conductor == own else found

    def _own_part(self) -> str:
        return self.anchor[0] if isinstance(self.anchor, tuple) else ""

    def _route_end(self, anchor: Anchor) -> RouteEnd:
        if isinstance(anchor, OnWire | OnBar):
            return RouteEnd(anchor.at())
        return self.desk.scene.drawing.parts[anchor[0]].port(anchor[1])

    def end(self, pointer: Pointer) -> None:
        """Connect, or say why not."""
        self.last = None
        self.move(pointer)
        self.cancel()
        is_lost = self._is_lost(pointer.at)
        if self.target is None and not is_lost:
            self.desk.say(_("No terminal there; nothing was connected."))
            return
        try:
            if self.target is None:
                edit = lost_edit(self.desk.diagram, self.anchor, pointer.at)
            else:
                edit = join_edit(self.desk.diagram, self.anchor, self.target)
        except ModelError as error:
            self.desk.say(error.sentence)
            return
        if self.desk.do(edit):
            self.desk.choose({new_wire(edit)})
            if is_lost:
                self.desk.say(_("Where it goes is not traced yet. When you have found it, drag "
                                "the ring onto that terminal."))


def on_wire_at(scene: SheetScene, at: Point) -> OnWire | None:
    """Return the place on a conductor under a point, or None."""
    found = scene.conductor_at(at)
    if found is None:
        return None
    return OnWire(found[0], scene.drawing.paths[found[0]], found[1], at)


def say_lengths(desk: Desk, part: str) -> None:
    """Tell how the length was shared out on both sides of a part fitted into a conductor."""
    pieces = pieces_beside(desk.diagram, part)
    if pieces is None:
        return
    lengths = [wire.length_m for wire in pieces]
    if None in lengths:
        desk.say(_("{part} fitted; the length was not known, so both halves are to be "
                   "measured.").format(part=part))
    else:
        desk.say(_("{part} fitted: {near_m} m on the supply's side, {far_m} m beyond. "
                   "Type a length, such as 0.2 m, to share it out anew.").format(
            part=part, near_m=decimal(f"{lengths[0]:g}"), far_m=decimal(f"{lengths[1]:g}")))


def _words(anchor: Anchor) -> str:
    if isinstance(anchor, OnBar):
        return anchor.component
    return anchor.conductor if isinstance(anchor, OnWire) else f"{anchor[0]}, {anchor[1]}"
