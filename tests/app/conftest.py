"""What tests of the program share: a state folder of their own, a small boat, a real window."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from app.new_boat import new_diagram
from app.workspace import Workspace
from model.diagram import Diagram
from tests.boat_builder import Boat


@pytest.fixture
def state_folder(tmp_path: Path) -> Path:
    """A folder for locks, journals and settings that nothing else uses."""
    folder = tmp_path / "state"
    folder.mkdir()
    return folder


@pytest.fixture
def small_boat() -> Diagram:
    """A bank, a fuse, a battery switch and a load in one row, not connected yet."""
    return (
        Boat()
        .battery("G1", at=(60, 60))
        .fuse("F1", at=(120, 60))
        .switch("Q1", at=(170, 60))
        .load("E1", at=(240, 60))
        .diagram()
    )


@pytest.fixture
def window(qtbot, qtlog, state_folder: Path) -> Iterator[object]:
    """A real window on an empty diagram; it must end without a Qt warning or a thread left."""
    from PySide6.QtCore import QCoreApplication, QEvent, QThread

    from app.drawing.painters.qt import register_faces
    from app.window.main_window import MainWindow

    register_faces()
    window = MainWindow(state_folder)
    window.furnish(Workspace(state_folder, new_diagram()))
    window.resize(1400, 900)
    window.show()
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    qtbot.waitUntil(lambda: window.report is not None)
    yield window
    window.files.may_leave = lambda: True  # type: ignore[method-assign]
    window.close()
    assert all(thread.isFinished() for thread in window.findChildren(QThread))
    window.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    warned = [
        record.message for record in qtlog.records if record.type.name != "QtDebugMsg"
        and not record.message.startswith("This plugin does not support")  # no screen here
    ]
    assert warned == []


@pytest.fixture
def hand(qtbot, window):
    """A hand at the real window."""
    from tests.app.hand import Hand

    return Hand(qtbot, window)


@pytest.fixture
def four_parts(hand):
    """A bank, a fuse, a battery switch and a load, taken from the Locker and placed by clicks."""
    hand.take_by_search("battery bank")
    hand.click(60, 80)
    hand.take_by_tile("fuse")
    hand.click(130, 80)
    hand.take_by_search("battery switch")
    hand.click(190, 80)
    hand.take_by_tile("load")
    hand.click(260, 80)
    return hand


@pytest.fixture
def told(monkeypatch) -> list[str]:
    """What warnings said, without anybody there to close them."""
    from app.window import messages

    sentences: list[str] = []
    monkeypatch.setattr(messages, "warn",
                        lambda _window, _title, sentence: sentences.append(sentence))
    return sentences
