"""The main job with real mouse and key events, from an empty sheet to a file and back."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QComboBox, QFileDialog

from model.storage.save import dumps
from rules.engine import Report
from tests.app.hand import LEFT, Hand

CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
UNPROTECTED = "battery_feed_without_protection"


def kinds(hand: Hand) -> dict[str, str]:
    return {item: part.kind for item, part in hand.window.workspace.diagram.components.items()}


def found(hand: Hand) -> set[str]:
    return {finding.rule for finding in hand.report().findings}


def undo_all(hand: Hand) -> None:
    while hand.window.workspace.undo_label is not None:
        before = hand.window.workspace.serial
        hand.key(Qt.Key.Key_Z, CONTROL)
        assert hand.window.workspace.serial == before + 1


def test_parts_are_taken_from_the_locker_and_placed_by_clicks(four_parts: Hand):
    assert kinds(four_parts) == {
        "G1": "battery_bank", "F1": "fuse", "Q1": "battery_switch", "E1": "load"}
    assert four_parts.window.workspace.diagram.components["F1"].at == (130.0, 80.0)
    assert four_parts.window.scene.selection == {"E1"}
    assert four_parts.view.armed_kind is None


def test_the_whole_story(four_parts: Hand, tmp_path, monkeypatch):
    hand, window = four_parts, four_parts.window
    workspace = window.workspace
    hand.connect(("G1", "+"), ("Q1", "a"))
    hand.connect(("Q1", "b"), ("E1", "+"))
    assert set(workspace.diagram.conductors) == {"W1", "W2"}
    assert UNPROTECTED in found(hand)
    assert "Notices" in window.foot.tabText(0) and window.foot.tabText(0) != "Notices"
    assert any(key.startswith("badge:") for key in window.scene.drawing.items)

    hand.click(*hand.on_wire("W1"))
    assert window.scene.selection == {"W1"}
    hand.key(Qt.Key.Key_Delete)
    assert set(workspace.diagram.conductors) == {"W2"}
    hand.connect(("G1", "+"), ("F1", "a"))
    hand.connect(("F1", "b"), ("Q1", "a"))
    assert len(workspace.diagram.conductors) == 3
    assert UNPROTECTED not in found(hand)

    hand.click(*hand.middle("Q1"))
    hand.key(Qt.Key.Key_R)
    assert workspace.diagram.components["Q1"].turn == 90

    end = dumps(workspace.diagram)
    undo_all(hand)
    assert not workspace.diagram.components and not workspace.diagram.conductors
    assert not window.scene.drawing.items
    while workspace.redo_label is not None:
        hand.key(Qt.Key.Key_Z, CONTROL | SHIFT)
    assert dumps(workspace.diagram) == end

    path = tmp_path / "anna.loom"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    hand.key(Qt.Key.Key_S, CONTROL)
    assert path.read_text(encoding="utf-8") == end
    assert not workspace.is_changed and not window.isWindowModified()
    assert window.files.recent() == (path,)

    hand.key(Qt.Key.Key_N, CONTROL)
    assert not workspace.diagram.components
    monkeypatch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path), ""))
    hand.key(Qt.Key.Key_O, CONTROL)
    assert dumps(workspace.diagram) == end
    hand.key(Qt.Key.Key_S, CONTROL)
    assert path.read_text(encoding="utf-8") == end


def test_undo_to_the_start_gives_the_same_bytes(hand: Hand):
    start = dumps(hand.window.workspace.diagram)
    hand.take_by_search("fuse")
    hand.click(100, 80)
    hand.drag(hand.middle("F1"), (150, 120))
    assert hand.window.workspace.diagram.components["F1"].at != (100.0, 80.0)
    hand.key(Qt.Key.Key_M)
    hand.key(Qt.Key.Key_Left)
    hand.type_over(hand.field("rated_a").editor, "30")
    undo_all(hand)
    assert dumps(hand.window.workspace.diagram) == start


def test_a_field_takes_feet_and_refuses_nonsense_with_words(four_parts: Hand):
    hand, window = four_parts, four_parts.window
    hand.connect(("F1", "b"), ("Q1", "a"))
    assert window.scene.selection == {"W1"}
    line = hand.field("length_m").editor
    hand.type_over(line, "12 ft")
    # 1 ft = 0.3048 m exactly (international foot, 1959).
    length = window.workspace.diagram.conductors["W1"].length_m
    assert length == pytest.approx(12 * 0.3048)
    row = hand.field("length_m")
    shown = row.editor.text()
    hand.type_over(row.editor, "a dozen")
    assert window.workspace.diagram.conductors["W1"].length_m == length
    assert row._wrong.isVisible() and "a dozen" in row._wrong.text()
    assert row.editor.text() == shown


@pytest.mark.parametrize("nonsense", ["-5", "1e999", "30 V", "nan", "1 2 3", "(+)"])
def test_a_rating_that_cannot_be_keeps_the_old_one(hand: Hand, nonsense):
    window = hand.window
    hand.take_by_search("fuse")
    hand.click(100, 80)
    hand.type_over(hand.field("rated_a").editor, "30 A")
    hand.type_over(hand.field("rated_a").editor, nonsense)
    row = hand.field("rated_a")
    assert window.workspace.diagram.components["F1"].parameters["rated_a"] == 30
    assert row.editor.text() == "30"
    assert row._wrong.text().endswith(".")


def test_a_field_left_by_tab_is_taken_and_focus_goes_on(hand: Hand):
    window = hand.window
    hand.take_by_search("fuse")
    hand.click(100, 80)
    line = hand.field("designation").editor
    hand.qtbot.mouseClick(line, LEFT)
    line.selectAll()
    hand.qtbot.keyClicks(line, "F20")
    hand.key(Qt.Key.Key_Tab)
    assert window.workspace.diagram.components["F1"].designation == "F20"
    following = hand.field("name").editor
    assert QApplication.focusWidget() is following
    hand.qtbot.keyClicks(QApplication.focusWidget(), "Main fuse")
    hand.key(Qt.Key.Key_Return)
    assert window.workspace.diagram.components["F1"].name == "Main fuse"


def test_letters_typed_in_a_field_are_no_shortcuts(hand: Hand):
    hand.take_by_search("fuse")
    hand.click(100, 80)
    hand.type_over(hand.field("name").editor, "CRM")
    fuse = hand.window.workspace.diagram.components["F1"]
    assert (fuse.name, fuse.turn, fuse.mirrored) == ("CRM", 0, False)


def test_a_switch_worked_by_click_makes_the_load_dead_and_live_again(four_parts: Hand):
    hand, window = four_parts, four_parts.window
    for first, second in ((("G1", "+"), ("F1", "a")), (("F1", "b"), ("Q1", "a")),
                          (("Q1", "b"), ("E1", "+"))):
        hand.connect(first, second)
    drawn = window.workspace.diagram
    hand.key(Qt.Key.Key_F8)
    assert window.live_state().components["E1"] == {"G1"}
    assert any(key.startswith("band:W3") for key in window.scene.drawing.items)
    hand.click(*hand.middle("Q1"))
    assert window.desk.positions == {"Q1": "off"}
    assert not window.live_state().components["E1"]
    assert not any(key.startswith("band:W3") for key in window.scene.drawing.items)
    rows = {window.foot.live.item(row, 0).data(Qt.ItemDataRole.UserRole):
            window.foot.live.item(row, 2).text() for row in range(window.foot.live.rowCount())}
    assert rows["E1"] == "dead" and rows["G1"] == "G1"
    hand.double_click(*hand.middle("Q1"))
    assert window.desk.positions == {"Q1": "off"}, "two quick clicks work the switch twice"
    hand.key(Qt.Key.Key_F9)
    assert window.live_state().components["E1"] == {"G1"}
    hand.key(Qt.Key.Key_F7)
    assert window.workspace.diagram is drawn


def test_positions_are_worked_from_the_table_too(four_parts: Hand):
    window = four_parts.window
    four_parts.key(Qt.Key.Key_F8)
    window.foot.setCurrentWidget(window.foot.positions)
    box = window.foot.positions.table.cellWidget(0, 2)
    assert isinstance(box, QComboBox)
    four_parts.key(Qt.Key.Key_Down, to=box)
    assert window.desk.positions == {"Q1": "off"}


def test_parts_copied_are_pasted_beside_and_chosen(four_parts: Hand):
    hand, window = four_parts, four_parts.window
    hand.connect(("F1", "b"), ("Q1", "a"))
    hand.click(*hand.middle("F1"))
    hand.qtbot.keyPress(hand.view, Qt.Key.Key_Control)
    hand.qtbot.mouseClick(hand.view.viewport(), LEFT, CONTROL, hand.pixel(*hand.middle("Q1")))
    assert window.scene.selection == {"F1", "Q1"}
    hand.key(Qt.Key.Key_C, CONTROL)
    hand.key(Qt.Key.Key_V, CONTROL)
    diagram = window.workspace.diagram
    assert window.scene.selection == {"F2", "Q2", "W2"}
    assert {end.component for end in diagram.conductors["W2"].ends()} == {"F2", "Q2"}
    QApplication.clipboard().setText("a shopping list")
    hand.key(Qt.Key.Key_V, CONTROL)
    assert window.workspace.diagram is diagram
    assert "nothing was pasted" in window.log.words.text()


def test_escape_lets_go_of_what_is_in_hand(hand: Hand):
    hand.take_by_search("fuse")
    assert hand.view.armed_kind == "fuse"
    hand.key(Qt.Key.Key_Escape)
    assert hand.view.armed_kind is None
    hand.click(100, 80)
    assert not hand.window.workspace.diagram.components


def test_enter_places_what_is_in_hand_and_space_turns_it(hand: Hand):
    hand.take_by_search("fuse")
    hand.point(120, 90)
    hand.key(Qt.Key.Key_Space)
    hand.key(Qt.Key.Key_Return)
    fuse = hand.window.workspace.diagram.components["F1"]
    assert fuse.turn == 90
    assert fuse.at == pytest.approx((120, 90), abs=2.5)


def test_two_parts_are_connected_from_the_keyboard(four_parts: Hand):
    window = four_parts.window
    window.desk.choose({"F1", "Q1"})
    four_parts.view.setFocus()
    four_parts.key(Qt.Key.Key_C)
    (wire,) = window.workspace.diagram.conductors.values()
    assert {end.component for end in wire.ends()} == {"F1", "Q1"}


def test_a_refused_connection_says_why_and_changes_nothing(hand: Hand):
    hand.take_by_search("shore inlet")
    hand.click(100, 80)
    hand.take_by_search("battery bank")
    hand.click(200, 80)
    before = hand.window.workspace.diagram
    hand.connect(("X1", "ac"), ("G1", "+"))
    assert hand.window.workspace.diagram is before
    assert "no core in common" in hand.window.log.words.text()


def test_what_is_half_typed_stays_when_findings_come(four_parts: Hand):
    hand, window = four_parts, four_parts.window
    hand.connect(("G1", "+"), ("Q1", "a"))
    hand.connect(("Q1", "b"), ("E1", "+"))
    hand.click(*hand.middle("Q1"))
    line = hand.field("name").editor
    hand.qtbot.mouseClick(line, LEFT)
    hand.qtbot.keyClicks(line, "Hou")
    window.particulars.show_report(Report((), (), (), 0))
    window.particulars.show_report(hand.report())
    line = hand.field("name").editor
    assert QApplication.focusWidget() is line
    hand.qtbot.keyClicks(line, "se")
    assert window.workspace.diagram.components["Q1"].name == ""
    hand.key(Qt.Key.Key_Return)
    assert window.workspace.diagram.components["Q1"].name == "House"


def test_undo_in_a_field_takes_back_typing_first_and_then_steps(hand: Hand):
    hand.take_by_search("fuse")
    hand.click(100, 80)
    line = hand.field("name").editor
    hand.qtbot.mouseClick(line, LEFT)
    hand.qtbot.keyClicks(line, "A")
    hand.key(Qt.Key.Key_Z, CONTROL)
    assert line.text() == ""
    assert set(hand.window.workspace.diagram.components) == {"F1"}
    hand.type_over(line, "B")
    hand.field("name")
    hand.key(Qt.Key.Key_Z, CONTROL)
    assert hand.window.workspace.diagram.components["F1"].name == ""
