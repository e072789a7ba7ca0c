"""Gestures driven by plain pointer records at a desk without a window."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QTransform
from PySide6.QtWidgets import QGraphicsView

from app.canvas.gestures.base import Gesture, Pointer
from app.canvas.gestures.choosing import RubberBand
from app.canvas.gestures.drawing import Connect, PlacePart
from app.canvas.gestures.moving import BendLeg, MoveLabel, MoveParts
from app.canvas.gestures.operating import WorkSwitch
from app.canvas.gestures.zoning import DrawPlace, MovePlace, SizePlace
from app.canvas.scene import SheetScene
from app.drafting.parts import place_edit
from app.drafting.places import new_place_edit
from app.drafting.wires import connect_edit
from app.drawing.marks import Box
from app.drawing.routing import legs
from app.drawing.sheet import sheet_drawing
from model.diagram import Diagram
from model.edits import Edit, apply
from tests.boat_builder import Boat


class PlainDesk:
    """A desk that applies edits and remembers what was said and worked."""

    def __init__(self, diagram: Diagram) -> None:
        self.diagram = diagram
        self.scene = SheetScene()
        self.scene.show(sheet_drawing(diagram))
        self.done: list[str] = []
        self.said: list[str] = []
        self.worked: list[tuple[str, str]] = []

    def do(self, edit: Edit) -> bool:
        self.diagram = apply(self.diagram, edit)
        self.scene.show(sheet_drawing(self.diagram))
        self.done.append(edit.label)
        return True

    def choose(self, items: Iterable[str]) -> None:
        self.scene.select(items)

    def say(self, sentence: str) -> None:
        self.said.append(sentence)

    def work(self, component: str, way: str) -> None:
        self.worked.append((component, way))

    def port(self, part: str, port: str) -> Pointer:
        return Pointer(*self.scene.drawing.parts[part].port(port).at)

    def is_previewing(self) -> bool:
        return bool(self.scene._preview.marks) or self.scene._carried.isVisible()

    def is_anything_dimmed(self) -> bool:
        return any(item.opacity() < 1 for _, item in self.scene._shown.values())


@pytest.fixture
def desk(qapp, small_boat: Diagram) -> PlainDesk:
    wired = apply(small_boat, connect_edit(small_boat, ("F1", "b"), ("Q1", "a")))
    placed = apply(wired, new_place_edit(wired, Box(100, 20, 200, 120)))
    return PlainDesk(placed)


def leg_middle(desk: PlainDesk, wire: str) -> tuple[Pointer, int]:
    """The middle of a conductor's longest leg, and the leg's number."""
    numbered = list(enumerate(legs(desk.scene.drawing.paths[wire])))
    number, (a, b) = max(numbered, key=lambda leg: abs(leg[1][0][0] - leg[1][1][0])
                         + abs(leg[1][0][1] - leg[1][1][1]))
    return Pointer((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), number


def by_away(pointer: Pointer, dx: float, dy: float) -> Pointer:
    return Pointer(pointer.x + dx, pointer.y + dy)


def every_gesture(desk: PlainDesk) -> list[tuple[Gesture, Pointer]]:
    """Each gesture begun where it can begin, and a place to go to."""
    label = desk.scene.drawing.labels["F1"].texts[0]
    on_leg, leg = leg_middle(desk, "W1")
    return [
        (RubberBand(desk, Pointer(10, 10)), Pointer(300, 200)),
        (PlacePart(desk, Pointer(50, 150), "lamp"), Pointer(80, 150)),
        (Connect(desk, desk.port("G1", "+"), ("G1", "+")), desk.port("F1", "a")),
        (MoveParts(desk, Pointer(120, 60), "F1"), Pointer(150, 100)),
        (BendLeg(desk, on_leg, "W1", leg), by_away(on_leg, 20, 20)),
        (MoveLabel(desk, Pointer(label.x, label.y), "F1"), Pointer(label.x, label.y + 30)),
        (WorkSwitch(desk, Pointer(170, 60), "Q1"), Pointer(170, 60)),
        (PlacePart(desk, Pointer(50, 150), "breaker"), on_leg),
        (Connect(desk, desk.port("E1", "+"), ("E1", "+")), on_leg),
        (DrawPlace(desk, Pointer(20, 130)), Pointer(90, 180)),
        (SizePlace(desk, Pointer(200, 120), "Z1", 2), Pointer(220, 150)),
        (MovePlace(desk, Pointer(100, 40), "Z1"), Pointer(110, 60)),
    ]


@pytest.mark.parametrize("number", range(12))
def test_escape_leaves_diagram_and_preview_as_they_were(desk: PlainDesk, number):
    before = desk.diagram
    gesture, to = every_gesture(desk)[number]
    gesture.move(by_away(to, -5, 3))
    gesture.move(to)
    gesture.cancel()
    assert desk.diagram is before
    assert desk.done == [] and desk.worked == []
    assert not desk.is_previewing() and not desk.is_anything_dimmed()


@pytest.mark.parametrize("number", range(12))
def test_while_it_moves_only_the_preview_changes(desk: PlainDesk, number):
    before, drawing = desk.diagram, desk.scene.drawing
    gesture, to = every_gesture(desk)[number]
    gesture.move(to)
    assert desk.diagram is before and desk.scene.drawing is drawing
    assert desk.is_previewing() or isinstance(gesture, WorkSwitch)


@pytest.mark.parametrize("number", range(12))
def test_the_release_is_at_most_one_step_and_the_preview_goes(desk: PlainDesk, number):
    gesture, to = every_gesture(desk)[number]
    gesture.move(to)
    gesture.end(to)
    assert len(desk.done) == (0 if isinstance(gesture, RubberBand | WorkSwitch) else 1)
    assert not desk.is_previewing() and not desk.is_anything_dimmed()


def test_a_band_chooses_what_lies_wholly_inside(desk: PlainDesk):
    RubberBand(desk, Pointer(100, 20)).end(Pointer(200, 120))
    assert desk.scene.selection == {"F1", "Q1", "W1"}
    RubberBand(desk, Pointer(300, 150)).end(Pointer(300, 150))
    assert desk.scene.selection == frozenset()


def test_a_band_with_a_key_held_adds(desk: PlainDesk):
    desk.choose({"G1"})
    RubberBand(desk, Pointer(200, 120)).end(Pointer(100, 20, add=True))
    assert desk.scene.selection == {"G1", "F1", "Q1", "W1"}


def test_a_part_is_placed_on_the_grid_and_chosen(desk: PlainDesk):
    PlacePart(desk, Pointer(50, 150), "lamp", 90).end(Pointer(51, 149))
    assert desk.diagram.components["E2"].at == (50.0, 150.0)
    assert desk.diagram.components["E2"].turn == 90
    assert desk.scene.selection == {"E2"}


def test_a_conductor_is_drawn_from_terminal_to_terminal(desk: PlainDesk):
    Connect(desk, desk.port("G1", "+"), ("G1", "+")).end(by_away(desk.port("F1", "a"), 0.7, 0.7))
    assert set(desk.diagram.conductors) == {"W1", "W2"}
    assert desk.scene.selection == {"W2"}


def test_a_conductor_led_back_to_where_it_began_is_not_drawn_and_said(desk: PlainDesk):
    start = desk.port("G1", "+")
    Connect(desk, start, ("G1", "+")).end(start)
    assert desk.done == []
    assert desk.said[-1] == "No terminal there; nothing was connected."


def with_bar(desk: PlainDesk, *, turn: int, studs: int) -> None:
    bar = Boat().busbar("X1", at=(200, 150), turn=turn, stud_count=studs).diagram().components["X1"]
    desk.diagram = desk.diagram.replaced(
        components=desk.diagram.components.with_item("X1", bar))
    desk.scene.show(sheet_drawing(desk.diagram))


def test_a_conductor_let_go_on_a_bar_takes_the_nearest_free_stud(desk: PlainDesk):
    with_bar(desk, turn=0, studs=3)
    Connect(desk, desk.port("E1", "+"), ("E1", "+")).end(Pointer(207, 150))
    assert desk.diagram.conductors["W2"].finish.terminal == "s2"
    Connect(desk, desk.port("F1", "a"), ("F1", "a")).end(Pointer(214, 150))
    assert desk.diagram.conductors["W3"].finish.terminal == "s3"
    assert desk.diagram.components["X1"].parameters["stud_count"] == 3


@pytest.mark.parametrize(("turn", "let_go"), [(0, (203, 150)), (90, (200, 153))])
def test_a_full_bar_gets_one_more_stud_where_the_conductor_is_let_go(
    desk: PlainDesk, turn: int, let_go: tuple[float, float],
):
    with_bar(desk, turn=turn, studs=1)
    Connect(desk, desk.port("F1", "a"), ("F1", "a")).end(desk.port("X1", "s1"))
    Connect(desk, desk.port("E1", "+"), ("E1", "+")).end(Pointer(*let_go))
    assert desk.done[-1] == "Connect E1 to X1"
    assert desk.diagram.components["X1"].parameters["stud_count"] == 2
    assert desk.diagram.conductors["W3"].finish.terminal == "s2"
    stud = desk.port("X1", "s2")
    assert max(abs(stud.x - let_go[0]), abs(stud.y - let_go[1])) < 1.25


def test_a_moved_part_takes_its_conductor_along(desk: PlainDesk):
    MoveParts(desk, Pointer(120, 60), "F1").end(Pointer(131, 79))
    assert desk.diagram.components["F1"].at == (130.0, 80.0)
    start = desk.diagram.conductors["W1"].path.points[0]
    assert start == pytest.approx(desk.scene.drawing.parts["F1"].port("b").at)


def test_a_click_on_a_part_chooses_it_and_moves_nothing(desk: PlainDesk):
    MoveParts(desk, Pointer(120, 60), "F1").end(Pointer(120.4, 60.2))
    assert desk.done == []
    assert desk.scene.selection == {"F1"}


def test_a_key_held_adds_to_the_chosen_and_takes_away(desk: PlainDesk):
    desk.choose({"F1"})
    MoveParts(desk, Pointer(170, 60, add=True), "Q1")
    assert desk.scene.selection == {"F1", "Q1"}
    MoveParts(desk, Pointer(120, 60, add=True), "F1")
    assert desk.scene.selection == {"Q1"}


def test_all_chosen_parts_move_together(desk: PlainDesk):
    desk.choose({"F1", "Q1", "W1"})
    MoveParts(desk, Pointer(120, 60), "F1").end(Pointer(120, 100))
    assert desk.done == ["Move 2 parts"]
    assert [desk.diagram.components[item].at[1] for item in ("F1", "Q1")] == [100.0, 100.0]


def test_moved_away_and_back_is_no_step(desk: PlainDesk):
    gesture = MoveParts(desk, Pointer(120, 60), "F1")
    gesture.move(Pointer(150, 60))
    gesture.end(Pointer(120, 60))
    assert desk.done == []


def test_a_bent_leg_is_by_hand(desk: PlainDesk):
    at, leg = leg_middle(desk, "W1")
    BendLeg(desk, at, "W1", leg).end(by_away(at, 15, 15))
    assert desk.diagram.conductors["W1"].path.by_hand
    assert desk.done == ["Bend W1"]


def test_a_click_on_a_conductor_only_chooses_it(desk: PlainDesk):
    at, leg = leg_middle(desk, "W1")
    BendLeg(desk, at, "W1", leg).end(by_away(at, 0.3, 0.3))
    assert desk.done == [] and desk.scene.selection == {"W1"}


def test_lettering_stays_where_it_was_put(desk: PlainDesk):
    label = desk.scene.drawing.labels["F1"].texts[0]
    MoveLabel(desk, Pointer(label.x, label.y), "F1").end(Pointer(label.x + 4, label.y + 20))
    moved = desk.scene.drawing.labels["F1"].texts[0]
    assert (moved.x, moved.y) == pytest.approx((label.x + 4, label.y + 20), abs=0.02)


def test_a_switch_is_worked_and_a_part_without_one_says_so(desk: PlainDesk):
    WorkSwitch(desk, Pointer(170, 60), "Q1").end(Pointer(170, 60))
    assert desk.worked == [("Q1", "")]
    WorkSwitch(desk, Pointer(60, 60), "G1").end(Pointer(60, 60))
    assert desk.worked == [("Q1", "")]
    assert desk.said[-1] == "G1 has nothing to switch there."


def test_the_row_under_the_pointer_of_a_panel_is_worked(qapp):
    desk = PlainDesk(Boat().panel("P1", {}, {}, {}, at=(100, 60)).diagram())
    way = desk.scene.drawing.parts["P1"].port("w2").at
    WorkSwitch(desk, Pointer(100, way[1]), "P1").end(Pointer(100, way[1] + 0.5))
    assert desk.worked == [("P1", "w2")]


def test_a_device_held_over_a_conductor_shows_the_gap_and_is_fitted_there(desk: PlainDesk):
    at, _ = leg_middle(desk, "W1")
    gesture = PlacePart(desk, Pointer(50, 150), "breaker")
    gesture.move(Pointer(50, 150))
    assert not desk.is_anything_dimmed()
    gesture.move(by_away(at, 0, 1.5))
    assert desk.is_anything_dimmed(), "the conductor steps back for its halves"
    gesture.end(by_away(at, 0, 1.5))
    assert desk.done == ["Insert breaker F2 in W1"]
    assert desk.scene.selection == {"F2"}
    assert {wire.id for wire in desk.diagram.conductors.values()
            if "F2" in {end.component for end in wire.ends()}} == {"W1", "W2"}


def test_a_loose_part_dragged_onto_a_conductor_is_fitted_there(desk: PlainDesk):
    desk.do(place_edit(desk.diagram, "fuse", (60, 150)))
    at, _ = leg_middle(desk, "W1")
    gesture = MoveParts(desk, Pointer(60, 150), "F2")
    gesture.move(Pointer(100, 120))
    gesture.move(at)
    gesture.end(at)
    assert desk.done[-1] == "Insert fuse F2 in W1"
    assert len(desk.diagram.conductors) == 2


def test_a_part_with_conductors_only_moves_over_others(desk: PlainDesk):
    desk.do(connect_edit(desk.diagram, ("Q1", "b"), ("E1", "+")))
    at, _ = leg_middle(desk, "W2")
    MoveParts(desk, Pointer(120, 60), "F1").end(at)
    assert desk.done[-1] == "Move F1"


def test_a_part_that_is_no_device_is_placed_beside_the_line_and_not_in_it(desk: PlainDesk):
    at, _ = leg_middle(desk, "W1")
    PlacePart(desk, at, "lamp").end(at)
    assert desk.done == ["Place lamp E2"] and len(desk.diagram.conductors) == 1


def test_a_conductor_led_onto_another_branches_off_there(desk: PlainDesk):
    at, _ = leg_middle(desk, "W1")
    Connect(desk, desk.port("E1", "+"), ("E1", "+")).end(at)
    assert desk.done == ["Branch from W1"]
    assert desk.diagram.components["X1"].kind == "stud"
    assert len(desk.diagram.conductors) == 3


def test_a_place_is_sized_by_an_edge_and_the_other_sides_stay(desk: PlainDesk):
    SizePlace(desk, Pointer(200, 70), "Z1", 5).end(Pointer(230, 33))
    assert desk.done == []
    gesture = SizePlace(desk, Pointer(200, 70), "Z1", 5)
    gesture.move(Pointer(230, 33))
    gesture.end(Pointer(230, 33))
    assert desk.diagram.places["Z1"].outline == ((100, 20), (230, 20), (230, 120), (100, 120))


def test_a_place_takes_its_parts_and_their_conductors_along(desk: PlainDesk):
    MovePlace(desk, Pointer(100, 40), "Z1").end(Pointer(100, 60))
    assert desk.done == ["Move place Place 1"]
    assert [desk.diagram.components[item].at[1] for item in ("F1", "Q1", "G1")] == [80, 80, 60]


def test_a_stud_is_chosen_by_a_click_though_it_is_all_terminal(desk: PlainDesk):
    desk.do(place_edit(desk.diagram, "stud", (60, 150)))
    Connect(desk, Pointer(60, 150), ("X1", "s"))
    assert desk.scene.selection == {"X1"}


def test_a_place_is_taken_hold_of_by_its_edge_or_name_and_not_by_its_ground(desk: PlainDesk):
    name = desk.scene.drawing.places["Z1"].name
    assert name is not None
    assert desk.scene.place_edge_at((name.x0 + 1, name.y0 + 1)) == "Z1"
    assert desk.scene.place_edge_at((100.5, 100)) == "Z1"
    assert desk.scene.place_edge_at((150, 110)) is None


def test_what_is_carried_is_painted_in_its_own_size(desk: PlainDesk, qapp):
    view = QGraphicsView(desk.scene)
    view.resize(900, 700)
    view.setTransform(QTransform.fromScale(2.0, 2.0))
    MoveParts(desk, Pointer(60, 60), "G1").move(Pointer(60, 150))
    body = desk.scene.drawing.parts["G1"].body.moved(0, 90)
    view.centerOn(body.x0, body.y0)
    picture = view.viewport().grab().toImage()

    def darkest(x: float) -> int:
        at = view.mapFromScene(QPointF(x, (body.y0 + body.y1) / 2 - 4))
        return min(picture.pixelColor(at.x() + dx, at.y()).lightness() for dx in (-1, 0, 1))

    assert darkest(body.x0) < 150 and darkest(body.x1) < 150
    assert darkest(body.x1 + 3) > 200 and darkest(body.x0 - 3) > 200
    view.setScene(None)
    view.deleteLater()


def test_a_conductor_let_go_on_empty_sheet_is_untraced_until_its_ring_is_led_on(desk: PlainDesk):
    Connect(desk, desk.port("E1", "+"), ("E1", "+")).end(Pointer(60, 150))
    assert desk.done == ["Draw an untraced conductor from E1"]
    assert desk.diagram.components["X1"].kind == "untraced_end"
    assert "drag the ring onto that terminal" in desk.said[-1]
    ring = desk.port("X1", "end")
    Connect(desk, ring, ("X1", "end")).end(Pointer(70, 160))
    assert desk.done[-1] == "Move X1"
    Connect(desk, desk.port("X1", "end"), ("X1", "end")).end(desk.port("Q1", "b"))
    assert desk.done[-1] == "Trace W2 to Q1"
    assert "X1" not in desk.diagram.components


def test_a_slip_of_the_hand_beside_a_terminal_draws_nothing(desk: PlainDesk):
    start = desk.port("E1", "+")
    Connect(desk, start, ("E1", "+")).end(by_away(start, 3.0, 3.0))
    assert desk.done == []
    assert desk.said[-1] == "No terminal there; nothing was connected."
