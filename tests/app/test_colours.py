"""The window's colours: chosen with real clicks, remembered, dimmed, and as the system asks."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QGuiApplication
from PySide6.QtWidgets import QToolButton

from app.drawing.theme import DIMMED, NIGHTS, PALETTES, colour, roles
from app.main_window import open_window
from app.window import colours
from tests.app.drawing.test_theme import relative_luminance


def button(window, name):
    return next(b for b in window.bar.findChildren(QToolButton) if b.accessibleName() == name)


def desk_colour(window):
    picture = window.view.viewport().grab().toImage()
    return picture.pixelColor(2, picture.height() - 2).name().upper()


@pytest.mark.parametrize("palette", ["dusk", "night"])
def test_a_click_brings_the_colours_to_bar_sheet_and_panels(qtbot, window, palette):
    qtbot.mouseClick(button(window, f"{palette.capitalize()} colours"), Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: desk_colour(window) == colour("desk", palette))
    assert window.bar.grab().toImage().pixelColor(1, 1) == QColor(colour("bar", palette))
    assert button(window, f"{palette.capitalize()} colours").isChecked()
    qtbot.mouseClick(button(window, "Day colours"), Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: desk_colour(window) == colour("desk"))


def test_night_is_dimmed_by_keys_down_to_two_fifths_and_comes_back_as_dim(qtbot, window):
    window.run("view.night")
    for expected in (*DIMMED, "night_40"):
        qtbot.keyClick(window, Qt.Key.Key_Comma, Qt.KeyboardModifier.ControlModifier)
        assert window.palette_name == expected
    assert window.log.words.text() == "Night colours at 40 %."
    window.run("view.day")
    window.run("view.night")
    assert window.palette_name == "night_40"
    qtbot.keyClick(window, Qt.Key.Key_Period, Qt.KeyboardModifier.ControlModifier)
    assert window.palette_name == "night_60"


def test_by_day_there_is_nothing_to_dim_and_it_says_so(qtbot, window):
    window.run("view.dimmer")
    assert window.palette_name == "day"
    assert window.log.words.text() == "Only the night colours can be dimmed."


def test_the_choice_is_remembered_by_the_next_window(qtbot, window):
    window.run("view.dusk")
    other = open_window(None, window.state_folder)
    assert other.palette_name == "dusk"
    other.close()


def test_without_a_choice_the_system_decides_between_day_and_dusk(window, monkeypatch):
    def become(dark):  # the platform of the tests has no such setting
        monkeypatch.setattr(colours, "is_system_dark", lambda: dark)
        QGuiApplication.styleHints().colorSchemeChanged.emit(Qt.ColorScheme.Unknown)

    become(dark=True)
    assert window.palette_name == "dusk"
    window.run("view.day")
    become(dark=True)
    assert window.palette_name == "day"
    window.run("view.system")
    assert window.palette_name == "dusk"
    become(dark=False)
    assert window.palette_name == "day"


def test_each_dimmer_night_is_darker_in_every_role():
    for brighter, dimmer in zip(NIGHTS, NIGHTS[1:], strict=False):
        assert all(relative_luminance(colour(role, dimmer)) <= relative_luminance(
            colour(role, brighter)) for role in roles())


def test_the_dimmed_nights_are_no_palettes_of_their_own_to_choose():
    assert not set(DIMMED) & set(PALETTES)
