"""The window's two steps: the shell is painted first, then furnished with the diagram."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from app.main_window import open_shell, start_window
from tests.bench.figures import DEMO


def test_the_shell_needs_no_model_and_no_library_but_qt():
    said = subprocess.run(
        [sys.executable, "-c", "import app.main_window, sys; print(*sys.modules)"],
        check=True, capture_output=True, text=True).stdout.split()
    assert "app.window.main_window" in said
    assert not {"model.diagram", "app.canvas.view", "rules"} & set(said)


@pytest.fixture
def started(qtbot, state_folder: Path):
    (state_folder / "window.ini").touch()
    window = start_window(DEMO, state_folder)
    yield window
    if window.is_furnished:
        window.files.may_leave = lambda: True  # type: ignore[method-assign]
    window.close()
    window.deleteLater()


def test_a_window_shows_menus_and_parts_and_then_the_diagram(qtbot, started):
    assert not started.is_furnished
    assert all(part.menu().actions() for part in started.menu.actions())
    assert any(tile.isVisible() for tile in started.locker.tiles.values())
    with qtbot.waitSignal(started.furnished):
        pass
    assert started.scene.drawing.parts and started.view.isVisible()
    assert started.workspace.path == DEMO
    shown = started.view.mapToScene(started.view.viewport().rect()).boundingRect()
    assert shown.contains(started.view.sceneRect().adjusted(60, 60, -60, -60)), "the whole sheet"


def test_a_command_before_the_diagram_is_there_does_nothing(started):
    for action in started.actions_by_id.values():
        action.trigger()
    assert started.isVisible() and not started.is_furnished


def test_a_file_that_cannot_be_opened_is_told_and_a_new_diagram_stands(
    qtbot, state_folder: Path, told
):
    window = start_window(state_folder / "missing.loom", state_folder)
    with qtbot.waitSignal(window.furnished):
        pass
    assert "no such file" in told[0]
    assert not window.scene.drawing.parts and window.updatesEnabled()
    window.close()
    window.deleteLater()


def test_a_window_closed_before_it_is_furnished_stays_empty(qtbot, state_folder: Path):
    window = start_window(DEMO, state_folder)
    window.close()
    qtbot.wait(50)
    assert not window.is_furnished and not list(state_folder.glob("*.lock"))
    window.deleteLater()


def test_a_shell_alone_can_be_resized_and_folds_its_parts(qtbot, state_folder: Path):
    window = open_shell(state_folder)
    qtbot.addWidget(window)
    window.resize(1150, 800)
    window.show()
    qtbot.waitUntil(lambda: window.locker.is_folded)
