"""Leaving in every state, two windows on one file, and whatever lies on the clipboard."""

from __future__ import annotations

import subprocess
import sys

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, QMimeData, Qt, QTimer
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication, QLineEdit, QMessageBox

from app.drafting.clipboard import MIME_TYPE
from app.window.main_window import MainWindow
from app.window.printing import PrintPage
from app.workspace import Workspace
from model.storage import load, save
from tests.app.hand import LEFT, Hand
from tests.boat_builder import Boat

CONTROL = Qt.KeyboardModifier.ControlModifier
HOLD = """
import sys
from pathlib import Path
from app.workspace import Workspace
workspace = Workspace(Path(sys.argv[1]))
workspace.open(Path(sys.argv[2]))
print("open", flush=True)
sys.stdin.readline()
"""


@pytest.fixture
def asked(monkeypatch) -> list[str]:
    """What the question about unsaved changes said; it is called off each time."""
    sentences: list[str] = []

    def answered(box: QMessageBox) -> QMessageBox.StandardButton:
        sentences.append(box.text())
        return QMessageBox.StandardButton.Cancel

    monkeypatch.setattr(QMessageBox, "exec", answered)
    return sentences


@pytest.fixture
def boat_file(tmp_path):
    path = tmp_path / "boat.loom"
    save(Boat().fuse("F1", at=(100, 80)).battery("G1", at=(60, 80)).diagram(), path)
    return path


@pytest.fixture
def other(qtbot, state_folder, boat_file):
    """A second real window, with the file open in it."""
    window = MainWindow(state_folder)
    window.furnish(Workspace(state_folder), boat_file)
    window.show()
    yield window
    window.files.may_leave = lambda: True
    window.close()
    window.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


# Two at one file ------------------------------------------------------------


def test_a_second_window_is_told_and_can_neither_open_nor_overwrite(
    hand: Hand, other, told, boat_file
):
    before = boat_file.read_bytes()
    assert not hand.window.files.open(boat_file)
    hand.take_by_search("fuse")
    hand.click(100, 80)
    assert not hand.window.files.save_to(boat_file)
    assert len(told) == 2 and all("open in another window" in sentence for sentence in told)
    assert boat_file.read_bytes() == before
    assert hand.window.workspace.path is None and hand.window.workspace.is_changed
    assert other.files.save(), "the first window still may"


def test_a_second_process_is_told_of_and_its_end_frees_the_file(
    hand: Hand, told, boat_file, state_folder
):
    process = subprocess.Popen([sys.executable, "-c", HOLD, str(state_folder), str(boat_file)],
                               text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    assert process.stdout is not None and process.stdout.readline() == "open\n"
    before = boat_file.read_bytes()
    assert not hand.window.files.open(boat_file)
    assert not hand.window.files.save_to(boat_file)
    assert len(told) == 2 and boat_file.read_bytes() == before
    process.kill()
    process.communicate()
    assert hand.window.files.open(boat_file)
    assert set(hand.window.scene.drawing.parts) == {"F1", "G1"}


def test_a_link_to_an_open_file_is_the_same_file(hand: Hand, other, told, boat_file, tmp_path):
    link = tmp_path / "link.loom"
    link.symlink_to(boat_file)
    assert not hand.window.files.open(link)
    assert not hand.window.files.save_to(link)
    assert len(told) == 2


# Leaving ------------------------------------------------------------


def test_a_gesture_in_hand_is_let_go_before_the_question(four_parts: Hand, asked):
    hand = four_parts
    before = hand.window.workspace.diagram
    hand.press(*hand.middle("F1"))
    hand.point(150, 130)
    hand.window.close()
    assert len(asked) == 1 and hand.window.isVisible()
    assert hand.view.gesture is None
    hand.release(150, 130)
    assert hand.window.workspace.diagram is before


def test_what_is_typed_in_a_field_counts_as_a_change(hand: Hand, asked, boat_file):
    assert hand.window.files.open(boat_file)
    hand.click(*hand.middle("G1"))
    line = hand.field("name").editor
    assert isinstance(line, QLineEdit)
    line.setFocus()
    hand.qtbot.keyClicks(line, "House")
    hand.window.close()
    assert len(asked) == 1
    assert hand.window.workspace.diagram.components["G1"].name == "House"


def test_saving_by_the_key_takes_what_is_being_typed(hand: Hand, boat_file):
    assert hand.window.files.open(boat_file)
    hand.click(*hand.middle("G1"))
    line = hand.field("name").editor
    line.setFocus()
    hand.qtbot.keyClicks(line, "House")
    hand.key(Qt.Key.Key_S, CONTROL)
    assert load(boat_file).components["G1"].name == "House"


def test_the_print_page_closes_with_the_window_and_then_comes_the_question(
    four_parts: Hand, asked
):
    hand, seen = four_parts, []

    def close_it() -> None:
        page = QApplication.activeModalWidget()
        if not isinstance(page, PrintPage):
            QTimer.singleShot(20, close_it)
            return
        hand.window.close()
        seen.append(page.isVisible())

    QTimer.singleShot(20, close_it)
    hand.window.files.print_dialog()
    assert seen == [False] and len(asked) == 1
    assert hand.window.isVisible() and hand.window.workspace.is_changed


def test_a_question_that_waits_is_not_asked_twice(four_parts: Hand):
    hand, seen = four_parts, []

    def close_again() -> None:
        box = QApplication.activeModalWidget()
        if not isinstance(box, QMessageBox):
            QTimer.singleShot(20, close_again)
            return
        hand.window.close()
        seen.append(QApplication.activeModalWidget() is box)
        hand.qtbot.mouseClick(box.button(QMessageBox.StandardButton.Cancel), LEFT)

    QTimer.singleShot(20, close_again)
    hand.window.close()
    assert seen == [True] and hand.window.isVisible()


@pytest.mark.parametrize("key", [Qt.Key.Key_F5, Qt.Key.Key_F6, Qt.Key.Key_F7, Qt.Key.Key_F1])
def test_closing_asks_in_every_mode(four_parts: Hand, asked, key):
    four_parts.key(key)
    four_parts.window.close()
    assert len(asked) == 1 and four_parts.window.isVisible()


def test_a_window_that_was_left_may_be_closed_again(other):
    other.files.may_leave = lambda: True
    assert other.close()
    assert other.close()


# The clipboard ------------------------------------------------------------


GARBAGE = (
    "", "garbage", "{", "[]", "null", "1e999", "[" * 50_000, "\x00\ud800",
    '{"loomwright_parts": 1}',
    '{"loomwright_parts": 1, "components": [], "conductors": []}',
    '{"loomwright_parts": 1, "components": {}, "conductors": 3}',
    '{"loomwright_parts": 1, "components": [{"id": "G1", "kind": "kettle"}], "conductors": []}',
    '{"loomwright_parts": 1, "components": [{"id": "F1", "kind": "fuse", "at": [1e400, 0]}], '
    '"conductors": []}',
    '{"loomwright_parts": 1, "components": [{"id": "F1", "kind": "fuse", "row_of": "P9.w1"}], '
    '"conductors": []}',
    '{"loomwright_parts": 1, "components": [{"id": "F1", "kind": "fuse", "at": null, '
    '"parameters": {"rated_a": -1}}], "conductors": []}',
)


@pytest.mark.parametrize("form", ["text/plain", MIME_TYPE])
def test_garbage_on_the_clipboard_changes_nothing_or_is_one_step(four_parts: Hand, form):
    hand, workspace = four_parts, four_parts.window.workspace
    before, steps = workspace.diagram, len(workspace.steps)
    for text in GARBAGE:
        mime = QMimeData()
        mime.setData(form, text.encode("utf-8", "surrogatepass"))
        QGuiApplication.clipboard().setMimeData(mime)
        hand.key(Qt.Key.Key_V, CONTROL)
        if workspace.diagram is not before:
            assert len(workspace.steps) == steps + 1, text
            workspace.undo()
        assert workspace.diagram == before, text
    QGuiApplication.clipboard().clear()
