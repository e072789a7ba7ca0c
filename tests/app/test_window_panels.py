"""The panels and the view round the main job: ways, references, finder, dragging in, recovery."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt
from PySide6.QtGui import QDropEvent, QWheelEvent
from PySide6.QtWidgets import QApplication, QPushButton

from app.canvas.view import KIND_MIME
from app.drafting.parts import place_edit
from app.panels.ways import WayTable
from app.window import messages
from app.window.main_window import MainWindow
from app.workspace import Workspace
from tests.app.hand import LEFT, Hand

CONTROL = Qt.KeyboardModifier.ControlModifier


def place(hand: Hand, kind: str, x: float = 120, y: float = 90) -> str:
    """Place a part and choose it."""
    hand.take_by_search(kind)
    hand.click(x, y)
    QApplication.processEvents()
    (item,) = hand.window.scene.selection
    return item


def way_table(window: MainWindow) -> WayTable:
    QApplication.processEvents()
    return window.particulars.findChildren(WayTable)[-1]


def ratings(window: MainWindow, panel: str) -> list[object]:
    ways = window.workspace.diagram.components[panel].parameters.get("ways") or ()
    return [way.get("rated_a") for way in ways]


def test_the_rating_of_a_way_is_typed_and_nonsense_is_refused_with_words(hand: Hand):
    panel = place(hand, "dc panel")
    way_table(hand.window).table.item(1, 1).setText("16 A")
    assert ratings(hand.window, panel)[:3] == [None, 16, None]
    table = way_table(hand.window)
    table.table.item(1, 1).setText("many")
    assert table.table.item(1, 1).text() == "16"
    assert "many" in table.wrong.text() and table.wrong.isVisible()
    table.table.item(0, 1).setText("-4")
    assert table.wrong.text().endswith(".")
    assert ratings(hand.window, panel)[:3] == [None, 16, None]


def test_ways_are_added_and_taken_away_one_step_each(hand: Hand):
    panel = place(hand, "dc panel")
    for words, count in (("Add a way", 7), ("Remove last", 6), ("Remove last", 5)):
        button = next(b for b in way_table(hand.window).findChildren(QPushButton)
                      if b.text() == words)
        hand.qtbot.mouseClick(button, LEFT)
        assert len(ratings(hand.window, panel)) == count


def test_a_way_in_use_is_not_taken_away_and_the_form_says_why(hand: Hand):
    panel = place(hand, "dc panel")
    place(hand, "lamp", 240, 90)
    hand.connect((panel, "w6"), ("E1", "+"))
    hand.window.desk.choose({panel})
    table = way_table(hand.window)
    button = next(b for b in table.findChildren(QPushButton) if b.text() == "Remove last")
    hand.qtbot.mouseClick(button, LEFT)
    assert "w6" in table.wrong.text()
    assert ratings(hand.window, panel) == []


def test_a_reference_to_nothing_is_refused_with_words(hand: Hand):
    place(hand, "alternator")
    hand.type_over(hand.field("driven_by").editor, "M9")
    row = hand.field("driven_by")
    assert "M9" in row._wrong.text() and row.editor.text() == ""


def test_a_choice_is_made_and_made_unknown_again(hand: Hand):
    item = place(hand, "alternator")
    at = hand.window.workspace.diagram.components[item].at
    hand.field("regulation").editor.setFocus()
    hand.key(Qt.Key.Key_Down)
    parameters = hand.window.workspace.diagram.components[item].parameters
    assert parameters["regulation"] == "internal"
    assert hand.window.workspace.diagram.components[item].at == at
    assert hand.field("regulation").editor.hasFocus()
    hand.key(Qt.Key.Key_Up)
    assert "regulation" not in hand.window.workspace.diagram.components[item].parameters


def test_what_parts_of_every_kind_may_be_marked_with_is_behind_more_fields(hand: Hand):
    item = place(hand, "dc panel")
    hand.window.particulars._toggle_more()
    QApplication.processEvents()
    hand.field("ignition_protected").editor.setFocus()
    hand.key(Qt.Key.Key_Down)
    assert hand.window.workspace.diagram.components[item].ignition_protected is not None
    hand.type_over(hand.field("warning_text").editor, "Two supplies")
    assert hand.window.workspace.diagram.components[item].warning_text == "Two supplies"
    hand.field("warning_text").editor.setFocus()
    hand.field("warning_text").editor.selectAll()
    hand.key(Qt.Key.Key_Delete)
    hand.key(Qt.Key.Key_Return)
    assert hand.window.workspace.diagram.components[item].warning_text == ""


def test_the_earthing_of_a_system_is_chosen_where_nothing_else_is(hand: Hand):
    (system,) = hand.window.workspace.diagram.systems
    before = hand.window.workspace.diagram.systems[system].earthing
    hand.field(f"{system}.earthing").editor.setFocus()
    hand.key(Qt.Key.Key_End)
    assert hand.window.workspace.diagram.systems[system].earthing == "insulated" != before


def test_the_boat_is_named_when_nothing_is_chosen(hand: Hand):
    hand.type_over(hand.field("name").editor, "Anna")
    assert hand.window.workspace.diagram.boat.name == "Anna"
    assert hand.window.windowTitle().startswith("Anna")


def test_the_finder_runs_a_command_and_finds_a_part(hand: Hand):
    place(hand, "fuse")
    hand.click(300, 200)
    assert hand.window.scene.selection == frozenset()
    hand.key(Qt.Key.Key_K, CONTROL)
    finder = hand.window.bar.finder
    assert finder.hasFocus()
    hand.type_over(finder, "F1")
    assert hand.window.scene.selection == {"F1"}
    hand.type_over(finder, "mirror")
    assert hand.window.workspace.diagram.components["F1"].mirrored


def drop(hand: Hand, kind: bytes) -> None:
    mime = QMimeData()
    mime.setData(KIND_MIME, kind)
    at = QPointF(hand.pixel(150, 100))
    hand.view.dropEvent(QDropEvent(at, Qt.DropAction.CopyAction, mime, LEFT,
                                   Qt.KeyboardModifier.NoModifier))


def test_a_part_dragged_from_the_locker_is_placed(hand: Hand):
    drop(hand, b"fuse")
    assert hand.window.workspace.diagram.components["F1"].at == pytest.approx((150, 100), abs=2.5)


def test_a_search_shows_its_parts_side_by_side_and_leaves_the_families_as_they_were(hand: Hand):
    locker = hand.window.locker
    heads = [head for head, _, _ in locker._families]
    were = [head.isChecked() for head in heads]
    hand.type_over(locker.search, "heat")
    hand.view.setFocus()
    shown = [tile for tile in locker.tiles.values() if tile.isVisible()]
    assert len(shown) > 1 and all(
        head.text().endswith(f"   {sum(tile in shown for tile in tiles)}")
        for head, _, tiles in locker._families if head.isVisible())
    locker.search.clear()
    assert [head.isChecked() for head in heads] == were


def test_a_name_no_part_has_is_answered_with_what_can_stand_for_it(hand: Hand):
    locker = hand.window.locker
    locker.search.setText("watermaker")
    assert {slug for slug, tile in locker.tiles.items() if tile.isVisible()} == {"load", "box"}
    hand.qtbot.mouseClick(locker.tiles["load"], Qt.MouseButton.LeftButton)
    hand.click(150, 100)
    assert hand.window.workspace.diagram.components["E1"].kind == "load"


def test_a_list_that_is_open_is_not_taken_from_under_the_hand(hand: Hand):
    drop(hand, b"load")
    form = hand.window.particulars
    hand.qtbot.waitUntil(lambda: "role" in form.rows)
    box = form.rows["role"].editor
    box.showPopup()
    hand.qtbot.waitUntil(lambda: box.view().isVisible())
    form.set_palette("dusk")
    hand.qtbot.wait(150)
    assert form.rows["role"].editor is box and box.view().isVisible()
    box.hidePopup()
    hand.qtbot.waitUntil(lambda: form.rows["role"].editor is not box)


@pytest.mark.parametrize("kind", [b"", b"\xff\xfe", b"no such kind"])
def test_what_is_no_part_is_not_placed(hand: Hand, kind):
    drop(hand, kind)
    assert not hand.window.workspace.diagram.components


def test_the_wheel_zooms_about_the_pointer_and_not_without_end(hand: Hand):
    view = hand.view
    at = hand.pixel(120, 90)

    def wheel(steps: int) -> None:
        view.wheelEvent(QWheelEvent(
            QPointF(at), QPointF(view.viewport().mapToGlobal(at)), QPoint(), QPoint(0, 120 * steps),
            Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase, False))

    before, scale = view.mapToScene(at), view.transform().m11()
    wheel(3)
    assert view.transform().m11() > scale
    after = view.mapToScene(at)
    assert (after.x(), after.y()) == pytest.approx((before.x(), before.y()), abs=1.0)
    for steps in (100, -200):
        wheel(steps)
        assert 0.4 < view.transform().m11() < 41


@pytest.mark.parametrize("action", ["view.grey", "view.day", "view.locker", "view.particulars",
                                    "view.foot", "view.fit", "view.zoom_in", "view.zoom_out"])
def test_looking_changes_nothing(hand: Hand, action):
    place(hand, "fuse")
    before = hand.window.workspace.diagram
    hand.window.run(action)
    hand.window.run(action)
    QApplication.processEvents()
    assert hand.window.workspace.diagram is before


def test_work_lost_in_a_crash_is_offered_and_brought_back(hand: Hand, state_folder, monkeypatch):
    crashed = Workspace(state_folder)
    for x in (50, 100):
        crashed.do(place_edit(crashed.diagram, "fuse", (x, 50)))
    crashed._journal.leave()
    monkeypatch.setattr(messages, "ask", lambda *_: True)
    hand.window.files.offer_recovery()
    workspace = hand.window.workspace
    assert workspace.diagram == crashed.diagram
    hand.key(Qt.Key.Key_Z, CONTROL, to=hand.view)
    assert set(workspace.diagram.components) == {"F1"}
    assert not crashed._journal.path.exists()


def test_the_pack_is_printed_from_the_window(hand: Hand, tmp_path):
    place(hand, "fuse")
    path = tmp_path / "pack.pdf"
    assert hand.window.files.print_to(path)
    assert path.read_bytes().startswith(b"%PDF")


@pytest.mark.parametrize("apart_mm", [2.5, 5.0, 7.5])
def test_a_conductor_shorter_than_the_reach_of_its_terminals_can_be_chosen(hand: Hand, apart_mm):
    hand.take_by_tile("fuse")
    hand.click(100, 60)
    hand.take_by_tile("fuse")
    hand.click(100, 100)
    (_x, low), (_x, high) = hand.port("F1", "b"), hand.port("F2", "a")
    middle = hand.middle("F2")
    hand.drag(middle, (middle[0], middle[1] - (high - low) + apart_mm))
    hand.connect(("F1", "b"), ("F2", "a"))
    hand.click(*hand.on_wire("W1"))
    assert hand.window.scene.selection == {"W1"}
    hand.key(Qt.Key.Key_Delete)
    assert set(hand.window.workspace.diagram.components) == {"F1", "F2"}
    assert not hand.window.workspace.diagram.conductors
