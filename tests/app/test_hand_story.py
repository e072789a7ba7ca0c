"""What the hand does on the sheet, with real mouse and key events at a real window."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QTimer
from PySide6.QtGui import QDragMoveEvent, QDropEvent, QImage
from PySide6.QtWidgets import QApplication, QComboBox, QDialog, QLineEdit

from app.drawing.symbols import KIND_MIME
from app.new_boat import new_diagram
from app.panels.many_parts import VARIOUS
from app.window.main_window import MainWindow
from app.window.replacing import ReplaceDialog
from app.workspace import Workspace
from model.diagram import Diagram
from model.storage.save import dumps
from tests.app.hand import LEFT, Hand

CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
ALL = Qt.DropAction.CopyAction


@pytest.fixture
def wired(four_parts: Hand) -> Hand:
    """A bank, a battery switch and a load in a row, joined; the fuse stands aside."""
    hand = four_parts
    hand.drag(hand.middle("F1"), (130, 170))
    hand.connect(("G1", "+"), ("Q1", "a"))
    hand.type_over(hand.field("length_m").editor, "3")
    hand.type_over(hand.field("size").editor, "16")
    hand.connect(("Q1", "b"), ("E1", "+"))
    hand.view.setFocus()
    return hand


def diagram(hand: Hand) -> Diagram:
    return hand.window.workspace.diagram


def words(hand: Hand) -> str:
    return hand.window.log.words.text()


def type_line(hand: Hand, key: Qt.Key, text: str) -> None:
    """Open the quick line with a key, type and press Enter."""
    hand.key(key, to=hand.view)
    hand.qtbot.keyClicks(QApplication.focusWidget(), text)
    hand.key(Qt.Key.Key_Return)


def test_a_breaker_clicked_onto_a_conductor_splits_it_and_deleted_heals_it(wired: Hand):
    whole = diagram(wired).conductors["W1"]
    wired.take_by_search("breaker")
    wired.point(*wired.on_wire("W1"))
    assert wired.window.scene._preview.marks
    wired.click(*wired.on_wire("W1"))
    assert words(wired).startswith("F2 fitted: ") and "on the supply's side" in words(wired)
    assert {wire.size.text for wire in diagram(wired).conductors.values() if wire.size} == {"16"}
    wired.qtbot.keyClicks(wired.view, "0")
    wired.qtbot.keyClicks(QApplication.focusWidget(), ".2 m")
    wired.key(Qt.Key.Key_Return)
    assert sorted(wire.length_m for wire in diagram(wired).conductors.values()
                  if wire.length_m) == [0.2, 2.8]
    wired.window.desk.choose({"F2"})
    wired.key(Qt.Key.Key_Delete, to=wired.view)
    assert words(wired) == "Done: Remove F2, W1 made whole"
    assert diagram(wired).conductors["W1"].length_m == whole.length_m
    assert diagram(wired).conductors["W1"].path == whole.path


def test_a_part_dragged_from_the_locker_is_dropped_into_a_conductor(wired: Hand):
    mime = QMimeData()
    mime.setData(KIND_MIME, b"fuse")
    at = QPointF(wired.pixel(*wired.on_wire("W1")))
    none = Qt.KeyboardModifier.NoModifier
    wired.view.dragMoveEvent(QDragMoveEvent(at.toPoint(), ALL, mime, LEFT, none))
    assert wired.window.scene._preview.marks
    wired.view.dropEvent(QDropEvent(at, ALL, mime, LEFT, none))
    assert words(wired).startswith("F2 fitted")
    assert len(diagram(wired).conductors) == 3


def test_a_part_that_stands_aside_is_dragged_into_a_conductor(wired: Hand):
    wired.drag(wired.middle("F1"), wired.on_wire("W1"))
    assert {end.component for wire in diagram(wired).conductors.values()
            for end in wire.ends()} == {"G1", "F1", "Q1", "E1"}
    wired.key(Qt.Key.Key_Z, CONTROL)
    assert len(diagram(wired).conductors) == 2


def test_a_branch_is_drawn_from_terminal_to_conductor_and_by_key(wired: Hand):
    wired.take_by_search("lamp")
    wired.click(160, 190)
    wired.drag(wired.port("E2", "+"), wired.on_wire("W1"))
    assert words(wired) == "Done: Branch from W1"
    assert diagram(wired).components["X1"].kind == "stud"
    wired.window.desk.choose({"W2"})
    wired.key(Qt.Key.Key_B, to=wired.view)
    wired.take_by_search("lamp")  # letting go of the branch
    wired.click(220, 190)
    wired.click(*wired.on_wire("W2"))
    wired.key(Qt.Key.Key_B, to=wired.view)
    wired.click(*wired.port("E3", "+"))
    assert words(wired) == "Done: Branch from W2"
    wired.window.desk.choose({"W2"})
    wired.take_by_search("lamp")
    wired.click(280, 190)
    wired.window.desk.choose({"W2", "E4"})
    wired.key(Qt.Key.Key_C, to=wired.view)
    assert words(wired) == "Done: Branch from W2"


def test_a_double_click_on_a_conductor_begins_a_branch(wired: Hand):
    wired.take_by_search("lamp")
    wired.click(160, 190)
    wired.double_click(*wired.on_wire("W1"))
    wired.click(*wired.port("E2", "+"))
    assert words(wired) == "Done: Branch from W1"


def test_a_fuse_is_replaced_by_a_breaker_after_reading_what_is_kept(wired: Hand):
    wired.drag(wired.middle("F1"), wired.on_wire("W1"))
    read: list[str] = []

    def choose() -> None:
        dialog = next(w for w in QApplication.topLevelWidgets()
                      if isinstance(w, ReplaceDialog) and w.isVisible())
        read.append(dialog.kinds.item(0).text())
        read.append(dialog.words.text())
        wired.qtbot.keyClick(dialog.kinds, Qt.Key.Key_Return)

    QTimer.singleShot(100, choose)
    wired.key(Qt.Key.Key_P, SHIFT, to=wired.view)
    assert read[0] == "Breaker" and "Every conductor finds a terminal." in read[1]
    assert diagram(wired).components["F1"].kind == "breaker"
    assert words(wired) == "Done: Replace F1 by breaker"


def test_escape_in_the_list_of_kinds_changes_nothing(wired: Hand):
    before = diagram(wired)
    wired.window.desk.choose({"F1"})
    QTimer.singleShot(100, lambda: [w.reject() for w in QApplication.topLevelWidgets()
                                    if isinstance(w, QDialog) and w.isVisible()])
    wired.key(Qt.Key.Key_P, SHIFT, to=wired.view)
    assert diagram(wired) is before


def test_breakers_on_a_bar_are_made_a_panel_and_taken_apart(hand: Hand):
    hand.take_by_search("busbar")
    hand.click(100, 60)
    for name in ("breaker 6 0.3", "breaker 6 0.4"):
        hand.window.desk.choose({"X1"})
        type_line(hand, Qt.Key.Key_P, name)
    hand.window.desk.choose({"F1", "F2"})
    hand.window.run("edit.make_panel")
    assert hand.window.scene.selection == {"P1"}
    assert len(diagram(hand).components["P1"].parameters["ways"]) == 2
    hand.window.run("edit.loosen_panel")
    assert sorted(part.kind for part in diagram(hand).components.values()) == [
        "breaker", "breaker", "busbar", "busbar"]


def test_parts_that_cannot_be_a_panel_say_why(wired: Hand):
    before = diagram(wired)
    wired.window.desk.choose({"F1", "G1"})
    wired.window.run("edit.make_panel")
    assert diagram(wired) is before
    assert "two or more loose breakers" in words(wired)


def test_chosen_parts_are_aligned_and_distributed_by_keys(four_parts: Hand):
    hand = four_parts
    hand.drag(hand.middle("F1"), (120, 120))
    hand.drag(hand.middle("E1"), (250, 60))
    hand.drag((20, 30), (300, 190))
    assert hand.window.scene.selection == {"G1", "F1", "Q1", "E1"}
    hand.key(Qt.Key.Key_L, CONTROL | SHIFT)
    assert len({part.at[1] for part in diagram(hand).components.values()}) == 1
    hand.key(Qt.Key.Key_H, CONTROL | SHIFT)
    assert words(hand) == "Done: Distribute 4 parts across"
    hand.window.desk.choose({"G1", "F1"})
    before = diagram(hand)
    hand.key(Qt.Key.Key_H, CONTROL | SHIFT)
    assert diagram(hand) is before and words(hand) == "Choose at least three parts."


def test_a_place_is_drawn_named_sized_and_moved(wired: Hand):
    wired.window.desk.choose(())
    wired.key(Qt.Key.Key_Z, to=wired.view)
    wired.drag((30, 40), (120, 130))
    assert wired.window.scene.selection == {"Z1"}
    assert diagram(wired).components["G1"].place == "Z1"
    wired.type_over(wired.field("name").editor, "Battery locker")
    box = wired.field("environment").editor
    assert isinstance(box, QComboBox)
    box.setCurrentIndex(box.findText("battery space"))
    box.activated.emit(box.currentIndex())
    place = diagram(wired).places["Z1"]
    assert (place.name, place.environment) == ("Battery locker", "battery_space")
    wired.window.desk.choose({"Z1"})
    wired.drag((120, 130), (220, 140))
    assert diagram(wired).places["Z1"].outline[2] == (220, 140)
    assert diagram(wired).components["Q1"].place == "Z1"
    wired.drag((30, 100), (40, 120))
    assert diagram(wired).places["Z1"].outline[0] == (40, 60)
    assert diagram(wired).components["G1"].at == (70, 100)
    wired.key(Qt.Key.Key_Down, to=wired.view)
    assert diagram(wired).components["G1"].at == (70, 102.5)
    wired.key(Qt.Key.Key_Delete, to=wired.view)
    assert not diagram(wired).places and len(diagram(wired).components) == 4


def test_escape_gives_up_drawing_a_place(hand: Hand):
    hand.view.setFocus()
    hand.key(Qt.Key.Key_Z, to=hand.view)
    assert hand.view.is_drawing_a_place
    hand.key(Qt.Key.Key_Escape, to=hand.view)
    hand.drag((30, 40), (120, 130))
    assert not diagram(hand).places


def test_a_copy_is_a_picture_for_other_programs(wired: Hand):
    wired.window.desk.choose({"G1", "Q1"})
    wired.key(Qt.Key.Key_C, CONTROL, to=wired.view)
    mime = QApplication.clipboard().mimeData()
    svg = bytes(mime.data("image/svg+xml").data()).decode("utf-8")
    assert svg.startswith("<?xml") and ">G1</text>" in svg and ">E1</text>" not in svg
    image = QImage.fromData(mime.data("image/png"), "PNG")
    assert image.width() > 500


@pytest.mark.parametrize("garbage", [
    "", "a shopping list", '{"loomwright_parts": 1}', '{"loomwright_parts": 2, "components": []}',
    '{"loomwright_parts": 1, "components": [{"id": "F1", "kind": "rocket"}], "conductors": []}',
    '{"loomwright_parts": 1, "components": [{"id": "F1", "kind": "fuse", "parameters": '
    '{"rated_a": -5}}], "conductors": []}', "[" * 5000,
])
def test_garbage_on_the_clipboard_is_refused_in_words(wired: Hand, garbage):
    before = diagram(wired)
    QApplication.clipboard().setText(garbage)
    wired.key(Qt.Key.Key_V, CONTROL, to=wired.view)
    assert diagram(wired) is before
    assert words(wired).endswith(".") and len(words(wired)) < 200


def test_a_picture_on_the_clipboard_is_refused_in_words(wired: Hand):
    before = diagram(wired)
    QApplication.clipboard().setImage(QImage(10, 10, QImage.Format.Format_RGB32))
    wired.key(Qt.Key.Key_V, CONTROL, to=wired.view)
    assert diagram(wired) is before and "nothing was pasted" in words(wired)


def test_a_piece_goes_to_another_window_with_what_is_known_of_it(wired: Hand, tmp_path, qtbot):
    folder = tmp_path / "other"
    folder.mkdir()
    other = MainWindow(folder)
    other.furnish(Workspace(folder, new_diagram("Other")))
    wired.window.desk.choose({"G1", "Q1"})
    wired.key(Qt.Key.Key_C, CONTROL, to=wired.view)
    other.run("edit.paste")
    pasted = other.workspace.diagram
    assert {part.kind for part in pasted.components.values()} == {
        "battery_bank", "battery_switch"}
    (wire,) = pasted.conductors.values()
    assert (wire.size.text, wire.length_m) == ("16", 3.0)
    other.files.may_leave = lambda: True  # type: ignore[method-assign]
    other.close()
    other.deleteLater()


def test_many_parts_show_what_they_have_in_common_and_take_it_at_once(wired: Hand):
    wired.take_by_search("breaker")
    wired.click(60, 170)
    wired.type_over(wired.field("rated_a").editor, "10")
    wired.window.desk.choose({"F1", "F2", "W1", "W2"})
    row = wired.field("parts.rated_a")
    assert isinstance(row.editor, QLineEdit)
    assert row.editor.placeholderText() == VARIOUS and row.editor.text() == ""
    wired.type_over(row.editor, "25 A")
    assert [diagram(wired).components[item].parameters["rated_a"] for item in ("F1", "F2")] == [
        25, 25]
    assert wired.field("parts.rated_a").editor.text() == "25"
    wired.type_over(wired.field("wires.length_m").editor, "?")
    assert {wire.length_m for wire in diagram(wired).conductors.values()} == {None}
    wired.type_over(wired.field("parts.rated_a").editor, "-4")
    assert wired.field("parts.rated_a")._wrong.isVisible()
    wired.key(Qt.Key.Key_Z, CONTROL, to=wired.view)
    assert wired.window.workspace.diagram.conductors["W1"].length_m == 3.0


def test_a_part_placed_while_another_was_chosen_is_connected_by_one_key(hand: Hand):
    hand.take_by_search("battery bank")
    hand.click(60, 80)
    hand.take_by_search("fuse")
    hand.click(130, 60)
    hand.key(Qt.Key.Key_C, to=hand.view)
    (wire,) = diagram(hand).conductors.values()
    assert [(end.component, end.terminal) for end in wire.ends()][0][0] == "G1"
    assert words(hand) == "Done: Connect G1 to F1"


def test_a_digit_begins_the_size_and_length_of_chosen_conductors(wired: Hand):
    wired.window.desk.choose({"W1", "W2"})
    wired.view.setFocus()
    wired.qtbot.keyClicks(wired.view, "3")
    wired.qtbot.keyClicks(QApplication.focusWidget(), "5 1.5 m")
    wired.key(Qt.Key.Key_Return)
    assert {(wire.size.text, wire.length_m) for wire in diagram(wired).conductors.values()} == {
        ("35", 1.5)}
    assert QApplication.focusWidget() is wired.view


def test_a_digit_begins_the_rating_of_a_chosen_fuse(wired: Hand):
    wired.window.desk.choose({"F1"})
    wired.view.setFocus()
    wired.qtbot.keyClicks(wired.view, "4")
    wired.qtbot.keyClicks(QApplication.focusWidget(), "0")
    wired.key(Qt.Key.Key_Return)
    assert diagram(wired).components["F1"].parameters["rated_a"] == 40


def test_the_quick_line_tells_what_it_would_do_and_escape_leaves_it(wired: Hand):
    before = dumps(diagram(wired))
    wired.window.desk.choose({"E1"})
    wired.key(Qt.Key.Key_P, to=wired.view)
    line = wired.window.commands.quick.line
    assert line.words.text() == "Place on E1, -"
    wired.qtbot.keyClicks(QApplication.focusWidget(), "busbar 16 2")
    assert line.meaning.text() == "Busbar, 16 mm², 2 m"
    wired.key(Qt.Key.Key_Tab)
    assert line.words.text() == "Place on E1, +" and line.field.text() == "busbar 16 2"
    wired.key(Qt.Key.Key_Escape)
    assert not line.isVisible() and QApplication.focusWidget() is wired.view
    assert dumps(diagram(wired)) == before


@pytest.mark.parametrize("nonsense", ["rocket motor", "fuse 16 1 2", "fuse 0", "shore inlet"])
def test_a_line_that_cannot_be_done_stays_and_says_why(wired: Hand, nonsense):
    before = diagram(wired)
    wired.window.desk.choose({"G1"})
    type_line(wired, Qt.Key.Key_P, nonsense)
    assert diagram(wired) is before
    assert wired.window.commands.quick.line.isVisible()
    assert words(wired).endswith(".")
