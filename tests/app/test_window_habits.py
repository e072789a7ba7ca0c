"""Habits of desktop programs: shortcut sheet, full screen, lettering, a list of steps."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel

from app.actions import ACTIONS
from app.drafting.parts import place_edit
from app.main_window import open_window
from app.window.shortcut_sheet import ShortcutSheet
from tests.bench.figures import DEMO

CONTROL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier


def submenu(window, menu, title):
    part = next(a.menu() for a in window.menu.actions() if a.text() == menu)
    found = next(a.menu() for a in part.actions() if a.menu() and a.text() == title)
    found.aboutToShow.emit()
    return found


def test_the_shortcut_sheet_has_every_key_with_its_action(qtbot):
    sheet = ShortcutSheet()
    qtbot.addWidget(sheet)
    words = {label.text() for label in sheet.findChildren(QLabel)}
    assert {action.title.removesuffix("…") for action in ACTIONS if action.shortcut} <= words
    assert {"Ctrl+Z", "F8", "Enter"} <= words


def test_a_key_fills_the_screen_and_gives_the_window_back(qtbot, window):
    qtbot.keyClick(window, Qt.Key.Key_F11)
    qtbot.waitUntil(window.isFullScreen)
    qtbot.keyClick(window, Qt.Key.Key_F11)
    qtbot.waitUntil(lambda: not window.isFullScreen())


def test_lettering_grows_to_half_as_large_again_and_is_remembered(qtbot, window):
    before = window.log.words.fontMetrics().height()
    for _ in range(6):
        window.run("view.larger")
    assert window.log.words.text() == "Lettering at 150%."
    assert window.log.words.fontMetrics().height() >= 1.4 * before
    other = open_window(None, window.state_folder)
    assert other.colours.text_scale == 1.5
    other.close()


@pytest.mark.parametrize("steps", [1, 3])
def test_several_steps_are_taken_back_from_the_list(window, steps):
    first = window.workspace.diagram
    for place in range(3):
        window.workspace.do(place_edit(window.workspace.diagram, "fuse", (60 + 40 * place, 60)))
    menu = submenu(window, "Edit", "Take back several steps")
    assert [a.text() for a in menu.actions()] == list(window.workspace.steps)
    menu.actions()[steps - 1].trigger()
    assert len(window.workspace.diagram.components) == 3 - steps
    assert steps < 3 or window.workspace.diagram == first


def test_with_nothing_done_the_list_says_so(window):
    menu = submenu(window, "Edit", "Take back several steps")
    assert [a.text() for a in menu.actions()] == ["Nothing to take back"]
    assert not menu.actions()[0].isEnabled()


@pytest.mark.parametrize(("key", "panel"), [
    (Qt.Key.Key_F2, "locker"), (Qt.Key.Key_F4, "particulars"), (Qt.Key.Key_F6, "foot")])
def test_a_panel_that_was_put_away_stays_away_in_the_next_window(qtbot, window, key, panel):
    qtbot.keyClick(window, key)
    assert getattr(window, panel).isHidden()
    other = open_window(None, window.state_folder)
    assert getattr(other, panel).isHidden()
    other.close()
    qtbot.keyClick(window, key)
    assert not getattr(window, panel).isHidden()


def test_a_file_that_is_opened_is_shown_whole(window):
    window.view.zoom(4)
    window.commands.open_file(DEMO)
    seen = window.view.mapToScene(window.view.viewport().rect()).boundingRect()
    assert seen.contains(0, 0) and seen.contains(420, 297)
