"""Closing, saving, opening and dropping in the real window: what is asked and what is told."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QFileDialog, QMessageBox

from app.window.importing import PreviewDialog
from app.workspace import Workspace
from model.storage import load, save
from tests.app.hand import Hand
from tests.boat_builder import Boat

CONTROL = Qt.KeyboardModifier.ControlModifier


def answer(monkeypatch, button: QMessageBox.StandardButton) -> list[str]:
    """Answer the question that comes, and keep its words."""
    asked: list[str] = []

    def answered(box: QMessageBox) -> QMessageBox.StandardButton:
        asked.append(box.text())
        return button

    monkeypatch.setattr(QMessageBox, "exec", answered)
    return asked


def test_closing_asks_about_changes_and_may_be_called_off(hand: Hand, monkeypatch):
    asked = answer(monkeypatch, QMessageBox.StandardButton.Cancel)
    hand.take_by_search("fuse")
    hand.click(100, 80)
    hand.window.close()
    assert asked == ["The diagram has changes that are not saved."]
    assert hand.window.isVisible()
    assert set(hand.window.workspace.diagram.components) == {"F1"}


def test_closing_can_save_first(hand: Hand, monkeypatch, tmp_path):
    answer(monkeypatch, QMessageBox.StandardButton.Save)
    path = tmp_path / "anna"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))
    hand.take_by_search("fuse")
    hand.click(100, 80)
    assert hand.window.files.may_leave()
    assert set(load(tmp_path / "anna.loom").components) == {"F1"}


def test_without_changes_nothing_is_asked(hand: Hand, monkeypatch):
    asked = answer(monkeypatch, QMessageBox.StandardButton.Cancel)
    assert hand.window.files.may_leave()
    assert asked == []


def drop(hand: Hand, path) -> None:
    """Let a file fall on the sheet."""
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(path))])
    hand.view.dropEvent(QDropEvent(
        QPointF(50, 50), Qt.DropAction.CopyAction, mime, Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier))


@pytest.mark.parametrize("content", [b"", b"\x89PNG\x00\xff", b'{"format_version": 7}'])
def test_a_broken_file_dropped_is_told_and_the_diagram_stays(
    hand: Hand, told, tmp_path, monkeypatch, content
):
    hand.take_by_search("fuse")
    hand.click(100, 80)
    before = hand.window.workspace.diagram
    answer(monkeypatch, QMessageBox.StandardButton.Discard)
    path = tmp_path / "broken.loom"
    path.write_bytes(content)
    drop(hand, path)
    assert len(told) == 1 and "broken.loom" in told[0]
    assert hand.window.workspace.diagram is before
    assert hand.window.workspace.undo_label == "Place fuse F1"


def test_a_good_file_dropped_is_opened_and_parts_without_a_place_are_laid_out(
    hand: Hand, told, tmp_path
):
    path = tmp_path / "boat.loom"
    save(Boat().battery("G1").fuse("F1").wire("W1", "G1.+", "F1.a").diagram(), path)
    drop(hand, path)
    assert told == []
    assert set(hand.window.scene.drawing.parts) == {"G1", "F1"}
    assert set(hand.window.scene.drawing.paths) == {"W1"}


def test_a_save_that_fails_is_told_and_the_changes_stay(hand: Hand, told, tmp_path, monkeypatch):
    monkeypatch.setattr(
        QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "no" / "a.loom"), ""))
    hand.take_by_search("fuse")
    hand.click(100, 80)
    hand.key(Qt.Key.Key_S, CONTROL)
    assert len(told) == 1 and "could not be saved" in told[0]
    assert hand.window.workspace.is_changed


def test_a_file_open_in_another_window_is_told(hand: Hand, told, tmp_path, state_folder):
    other = Workspace(state_folder, Boat().fuse("F1").diagram())
    other.save_as(tmp_path / "boat.loom")
    drop(hand, tmp_path / "boat.loom")
    assert len(told) == 1 and "another window" in told[0]
    other.close()


@pytest.mark.parametrize("demo", ["file.demo_sloop", "file.demo_cutter"])
def test_a_demo_opens_from_the_menu_and_is_not_changed_by_looking(hand: Hand, demo):
    hand.window.actions_by_id[demo].trigger()
    window = hand.window
    assert len(window.scene.drawing.parts) > 10
    hand.key(Qt.Key.Key_F8)
    hand.key(Qt.Key.Key_F7)
    assert window.workspace.undo_label is None
    assert hand.report().rules_run > 0


def test_two_tables_become_a_boat_when_their_preview_is_accepted(hand: Hand, monkeypatch, tmp_path):
    (tmp_path / "c.csv").write_text("id,kind\nG1,battery\nF1,fuse\n")
    (tmp_path / "w.csv").write_text("id,from,to\nW1,G1 +,F1.a\n")
    for accepted, expected in ((False, set()), (True, {"G1", "F1"})):
        names = iter(["c.csv", "w.csv"])
        monkeypatch.setattr(QFileDialog, "getOpenFileName",
                            lambda *_, names=names: (str(tmp_path / next(names)), ""))
        monkeypatch.setattr(PreviewDialog, "exec", lambda _dialog, accepted=accepted: accepted)
        hand.window.run("file.import")
        diagram = hand.window.workspace.diagram
        assert set(diagram.components) == expected
        assert all(part.at is not None for part in diagram.components.values())
