"""Hands that do anything in any order: gestures and edits drawn at random, on a desk and a window.

After each step the diagram is valid, can be drawn, and reads back as it was written. At the end
undo leads to the very bytes of the start and redo to those of the end, and Qt has not complained.

The suite takes a few hundred steps; HAND_EXAMPLES=200 HAND_STEPS=60 takes thousands.
"""

from __future__ import annotations

import json

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import invariant, precondition, rule
from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QApplication

from app.actions import ACTIONS
from app.canvas.gestures.base import Pointer
from app.canvas.gestures.choosing import RubberBand
from app.canvas.gestures.drawing import Connect, PlacePart, on_wire_at
from app.canvas.gestures.moving import BendLeg, MoveLabel, MoveParts
from app.canvas.gestures.zoning import DrawPlace, MovePlace, SizePlace
from app.drafting.arranging import align_edit, distribute_edit
from app.drafting.clipboard import copied, paste_edit
from app.drafting.healing import remove_and_heal_edit
from app.drafting.inserting import pieces_beside, split_edit
from app.drafting.many import figures_edit, parts_field_edit
from app.drafting.next_part import (
    Figures,
    free_terminals,
    join_next_edit,
    next_part_edit,
    read_line,
)
from app.drafting.panel_making import loosen_panel_edit, make_panel_edit
from app.drafting.parts import mirror_edit, move_edit, turn_edit
from app.drafting.places import place_field_edit
from app.drafting.replacing import external_regulator_edit, plans, replace_edit
from app.drafting.wires import reroute_edit
from app.drawing.painters.qt import register_faces
from app.drawing.sheet import sheet_drawing
from app.panels.many_parts import common_fields
from app.window.desk import WindowDesk
from app.window.main_window import MainWindow
from app.workspace import Workspace
from model.diagram import Diagram
from model.errors import ModelError
from model.kinds import kind_of
from tests.app.random_hand import (
    EXAMPLES,
    INLINE,
    KINDS,
    PROFILE,
    STEPS,
    RandomHand,
    picks,
    points,
    shares,
    steps,
)


class Hand(RandomHand):
    """Does one thing after another to a diagram."""

    # What a hand does ---------------------------------------------------------------------------

    @precondition(RandomHand.has_room)
    @rule(kind=st.sampled_from(KINDS), at=points, cancelled=st.booleans())
    def place(self, kind: str, at: tuple[float, float], cancelled: bool) -> None:
        self.drag(PlacePart(self.desk, Pointer(*at), kind), Pointer(*at), cancelled and at[0] > 300)

    @precondition(RandomHand.has_room)
    @rule(kind=st.sampled_from(INLINE), pick=picks, share=shares)
    def place_on_a_conductor(self, kind: str, pick: int, share: float) -> None:
        at = self.wire_point(pick, share)
        if at is not None:
            self.drag(PlacePart(self.desk, at, kind), at)

    @rule(first=picks, second=picks)
    def connect(self, first: int, second: int) -> None:
        one, two = self.port_point(first), self.port_point(second)
        if one is not None and two is not None:
            self.drag(Connect(self.desk, *one), two[0])

    @precondition(RandomHand.has_room)
    @rule(pick=picks, wire=picks, share=shares, begins_there=st.booleans())
    def branch(self, pick: int, wire: int, share: float, begins_there: bool) -> None:
        port, at = self.port_point(pick), self.wire_point(wire, share)
        if port is None or at is None:
            return
        anchor = on_wire_at(self.desk.scene, at.at) if begins_there else None
        if anchor is not None:
            self.drag(Connect(self.desk, at, anchor), port[0])
        else:
            self.drag(Connect(self.desk, *port), at)

    @precondition(RandomHand.has_room)
    @rule(pick=picks, at=points)
    def lose_sight_of(self, pick: int, at: tuple[float, float]) -> None:
        start = self.port_point(pick)
        if start is not None:
            self.drag(Connect(self.desk, *start), Pointer(*at))

    @rule(pick=picks, to=picks)
    def trace(self, pick: int, to: int) -> None:
        """Lead a conductor that was lost on to a terminal, or back into the unknown."""
        lost = sorted(part.id for part in self.diagram.components.values()
                      if part.kind == "untraced_end" and part.at is not None)
        found = self.port_point(to)
        if lost and found is not None:
            ring = lost[pick % len(lost)]
            at = self.diagram.components[ring].at or (0.0, 0.0)
            self.drag(Connect(self.desk, Pointer(*at), (ring, "end")), found[0])

    @rule(pick=picks, dx=steps, dy=steps, add=st.booleans(), cancelled=st.booleans())
    def drag_a_part(self, pick: int, dx: float, dy: float, add: bool, cancelled: bool) -> None:
        part = self.part(pick)
        if part is not None:
            x, y = self.diagram.components[part].at or (0.0, 0.0)
            self.drag(MoveParts(self.desk, Pointer(x, y, add), part), Pointer(x + dx, y + dy),
                      cancelled and dx > 40)

    @rule(pick=picks, wire=picks, share=shares)
    def drag_onto_a_conductor(self, pick: int, wire: int, share: float) -> None:
        part, to = self.part(pick), self.wire_point(wire, share)
        if part is not None and to is not None:
            self.desk.choose(())
            at = self.diagram.components[part].at or (0.0, 0.0)
            self.drag(MoveParts(self.desk, Pointer(*at), part), to)

    @rule(pick=picks, leg=picks, to=points)
    def bend(self, pick: int, leg: int, to: tuple[float, float]) -> None:
        wire = self.wire(pick)
        if wire is not None:
            path = self.desk.scene.drawing.paths[wire]
            number = leg % (len(path) - 1)
            self.drag(BendLeg(self.desk, Pointer(*path[number]), wire, number), Pointer(*to))

    @rule(pick=picks, dx=steps, dy=steps)
    def move_lettering(self, pick: int, dx: float, dy: float) -> None:
        labels = sorted(self.desk.scene.drawing.labels)
        if labels:
            item = labels[pick % len(labels)]
            text = self.desk.scene.drawing.labels[item].texts[0]
            self.drag(MoveLabel(self.desk, Pointer(text.x, text.y), item),
                      Pointer(text.x + dx, text.y + dy))

    @rule(a=points, b=points)
    def choose(self, a: tuple[float, float], b: tuple[float, float]) -> None:
        self.drag(RubberBand(self.desk, Pointer(*a)), Pointer(*b))

    @rule(picked=st.lists(picks, min_size=1, max_size=3), wire=picks, with_wire=st.booleans())
    def remove(self, picked: list[int], wire: int, with_wire: bool) -> None:
        chosen = self.some(picked) | ({self.wire(wire) or ""} if with_wire else set())
        chosen &= {*self.diagram.components, *self.diagram.conductors}
        if chosen:
            self.do(lambda: remove_and_heal_edit(self.diagram, chosen))

    @rule(picked=st.lists(picks, min_size=1, max_size=4), what=st.integers(0, 5), dx=steps)
    def arrange(self, picked: list[int], what: int, dx: float) -> None:
        chosen = self.some(picked) & set(self.desk.scene.drawing.parts)
        if not chosen:
            return
        self.do(lambda: (
            turn_edit(self.diagram, chosen), mirror_edit(self.diagram, chosen),
            move_edit(self.diagram, chosen, dx, -dx), align_edit(self.diagram, chosen, "left"),
            align_edit(self.diagram, chosen, "middle"),
            distribute_edit(self.diagram, chosen, "down"))[what])

    @rule(pick=picks)
    def reroute(self, pick: int) -> None:
        wire = self.wire(pick)
        if wire is not None:
            self.do(lambda: reroute_edit(self.diagram, [wire]))

    @precondition(RandomHand.has_room)
    @rule(picked=st.lists(picks, min_size=1, max_size=5), dx=steps)
    def paste(self, picked: list[int], dx: float) -> None:
        text = copied(self.diagram, self.some(picked))
        self.do(lambda: paste_edit(self.diagram, text, (dx, dx))[0])

    @rule(picked=st.lists(picks, min_size=1, max_size=3), cut=picks, other=st.text(max_size=5))
    def paste_garbage(self, picked: list[int], cut: int, other: str) -> None:
        """Something like parts: refused when read, or when done, and never half done."""
        text = copied(self.diagram, self.some(picked))
        at = cut % (len(text) + 1)
        before = self.diagram
        for broken in (text[:at] + other + text[at + len(other):], text[:at], json.dumps(other)):
            try:
                self.desk.workspace.do(paste_edit(self.diagram, broken, (5, 5))[0])
            except ModelError as error:
                assert error.sentence.endswith((".", "?"))
                assert self.diagram is before
            else:
                self.desk.workspace.undo()

    @precondition(RandomHand.has_room)
    @rule(pick=picks, plan=picks)
    def replace(self, pick: int, plan: int) -> None:
        part = self.part(pick)
        found = plans(self.diagram, part) if part else ()
        if found and part is not None:
            self.do(lambda: replace_edit(self.diagram, part, found[plan % len(found)]))

    @rule(pick=picks)
    def fit_a_regulator(self, pick: int) -> None:
        machines = sorted(part.id for part in self.diagram.components.values()
                          if part.kind == "alternator")
        if machines:
            self.do(lambda: external_regulator_edit(
                self.diagram, machines[pick % len(machines)]))

    @rule(picked=st.lists(picks, min_size=2, max_size=4))
    def make_a_panel(self, picked: list[int]) -> None:
        self.do(lambda: make_panel_edit(self.diagram, self.some(picked)))

    @precondition(RandomHand.has_room)
    @rule(feed=picks, how_many=st.integers(2, 4), kind=st.sampled_from(("fuse", "breaker")))
    def feed_and_make_a_panel(self, feed: int, how_many: int, kind: str) -> None:
        """Loose devices on one bar become a panel, as the owner who began without one does."""
        bars = sorted(part.id for part in self.diagram.components.values()
                      if part.kind in ("busbar", "stud") and part.at is not None
                      and part.parameters.get("pole", "+") == "+")
        if not bars:
            return
        bar, made = bars[feed % len(bars)], set()
        for _ in range(how_many):
            start = (bar, free_terminals(self.diagram, bar)[0])
            found = next_part_edit(self.diagram, start, kind, Figures())
            self.desk.do(found.edit)
            made.add(found.part)
        self.desk.do(make_panel_edit(self.diagram, made))

    @precondition(RandomHand.has_room)
    @rule(pick=picks)
    def take_a_panel_apart(self, pick: int) -> None:
        panels = sorted(part.id for part in self.diagram.components.values()
                        if kind_of(part).field("ways") is not None)
        if panels:
            self.do(lambda: loosen_panel_edit(self.diagram, panels[pick % len(panels)]))

    @precondition(RandomHand.has_room)
    @rule(pick=picks, turns=picks, kind=st.sampled_from(KINDS),
          line=st.sampled_from(("", "16 1.2", "2/0 4 ft", "2.5 m")))
    def draw_on(self, pick: int, turns: int, kind: str, line: str) -> None:
        parts = sorted(self.diagram.components)
        if parts:
            part = parts[pick % len(parts)]
            terminals = free_terminals(self.diagram, part)
            start = (part, terminals[turns % len(terminals)])
            figures = read_line(line)[1]
            self.do(lambda: next_part_edit(self.diagram, start, kind, figures).edit)

    @rule(pick=picks, other=picks, turns=picks)
    def join(self, pick: int, other: int, turns: int) -> None:
        parts = sorted(self.diagram.components)
        if len(parts) < 2:
            return
        part = parts[pick % len(parts)]
        terminals = free_terminals(self.diagram, part)
        self.do(lambda: join_next_edit(
            self.diagram, (part, terminals[turns % len(terminals)]),
            parts[other % len(parts)], "", Figures(length_m=1.0)))

    @rule(pick=picks, length_m=st.floats(0, 50))
    def share_out_the_length(self, pick: int, length_m: float) -> None:
        part = self.part(pick)
        if part is not None and pieces_beside(self.diagram, part) is not None:
            self.do(lambda: split_edit(self.diagram, part, length_m))

    @rule(pick=picks, length_m=st.floats(0, 50), size=st.sampled_from(("2.5", "16", "2/0")))
    def give_figures(self, pick: int, length_m: float, size: str) -> None:
        wires = sorted(self.diagram.conductors)
        if wires:
            figures = Figures(read_line(size)[1].size, length_m)
            self.do(lambda: figures_edit(
                self.diagram, {wires[pick % len(wires)], wires[0]}, figures))

    @rule(picked=st.lists(picks, min_size=1, max_size=4), pick=picks,
          value=st.sampled_from((None, 0.0, 30.0, "+", "red", True)))
    def set_a_common_field(self, picked: list[int], pick: int, value: object) -> None:
        """A value that does not fit is refused as a whole."""
        chosen = [self.diagram.components[item] for item in self.some(picked)]
        fields = [field for group in common_fields(chosen) for field in group] if chosen else []
        if not fields:
            return
        before = self.diagram
        edit_of = {field.name: field for field in fields}
        name = sorted(edit_of)[pick % len(edit_of)]
        try:
            self.desk.do(parts_field_edit(
                self.diagram, [part.id for part in chosen], edit_of[name], value))
        except (ModelError, ValueError):
            assert self.diagram is before

    @rule(a=points, b=points)
    def draw_a_place(self, a: tuple[float, float], b: tuple[float, float]) -> None:
        if len(self.diagram.places) < 12:
            self.drag(DrawPlace(self.desk, Pointer(*a)), Pointer(*b))

    @rule(pick=picks, handle=picks, to=points, what=st.integers(0, 3))
    def change_a_place(
        self, pick: int, handle: int, to: tuple[float, float], what: int
    ) -> None:
        places = sorted(self.desk.scene.drawing.places)
        if not places:
            return
        place = places[pick % len(places)]
        outline = self.desk.scene.drawing.places[place].outline
        if what == 0 and len(outline) == 4:
            self.drag(SizePlace(self.desk, Pointer(*outline[0]), place, handle % 8), Pointer(*to))
        elif what == 1:
            self.drag(MovePlace(self.desk, Pointer(*outline[0]), place), Pointer(*to))
        elif what == 2:
            self.do(lambda: place_field_edit(self.diagram, place, "environment", "bilge"))
        else:
            self.do(lambda: remove_and_heal_edit(self.diagram, {place}))

    @rule(times=st.integers(1, 4))
    def undo(self, times: int) -> None:
        for _ in range(times):
            self.desk.workspace.undo()
        self.show()

    @rule(times=st.integers(1, 4))
    def redo(self, times: int) -> None:
        for _ in range(times):
            self.desk.workspace.redo()
        self.show()

Hand.TestCase.settings = PROFILE


class TestHand(Hand.TestCase):  # type: ignore[misc,name-defined]
    """The run on a desk without a window."""

    def setUp(self) -> None:
        self.application = QApplication.instance() or QApplication([])


class HandAtWindow(Hand):
    """The same hand at a real window: it shows every step, and its panels follow."""

    def make_desk(self, diagram: Diagram) -> WindowDesk:  # type: ignore[override]
        register_faces()
        self.window = MainWindow(self.folder)
        self.window.furnish(Workspace(self.folder, diagram))
        self.window.resize(1200, 800)
        self.window.show()
        QApplication.processEvents()
        return self.window.desk

    def show(self) -> None:
        QApplication.processEvents()

    @invariant()
    def the_window_shows_the_diagram(self) -> None:
        if hasattr(self, "window"):
            QApplication.processEvents()
            drawing, drawn = self.window.scene.drawing, sheet_drawing(self.diagram)
            assert set(drawing.parts) == set(drawn.parts)
            assert dict(drawing.paths) == dict(drawn.paths)
            self.window.desk.choose(sorted({*drawing.parts, *drawing.paths})[:3])

    @rule(action=st.sampled_from([
        action.id for action in ACTIONS if action.menu in ("Edit", "Arrange")
        and action.id not in ("edit.find", "edit.replace")]), picked=st.lists(picks, max_size=3))
    def run_an_action(self, action: str, picked: list[int]) -> None:
        self.window.desk.choose(self.some(picked))
        if self.has_room() or "paste" not in action:
            self.window.run(action)
        self.window.view.cancel()

    def leave(self) -> None:
        if hasattr(self, "window"):
            QApplication.processEvents()
            self.window.files.may_leave = lambda: True  # type: ignore[method-assign]
            self.window.close()
            self.window.deleteLater()
            QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


HandAtWindow.TestCase.settings = settings(
    PROFILE, max_examples=max(EXAMPLES // 6, 2), stateful_step_count=STEPS)


class TestHandAtWindow(HandAtWindow.TestCase):  # type: ignore[misc,name-defined]
    """The shorter run at a window."""

    def setUp(self) -> None:
        self.application = QApplication.instance() or QApplication([])
