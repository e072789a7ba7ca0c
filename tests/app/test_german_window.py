"""A window in German: menus, headings, notices and fields, typed in with a comma, nothing cut."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QPushButton, QTabBar, QToolButton

from app.actions import ACTIONS
from app.panels.heading import Heading
from app.window.language import (
    KEY,
    begin_language,
    choose_language,
    chosen_language,
    window_settings,
)
from app.words import speak, speaks_english


@pytest.fixture
def spoken(state_folder) -> Iterator[None]:
    """German, chosen before the window is made."""
    choose_language(window_settings(state_folder), "de")
    speak("de")
    yield
    speak("en")


@pytest.fixture
def cutter(spoken, window, qtbot):
    """The large demo in a German window of a small screen."""
    window.resize(1280, 800)
    window.commands.open_demo("cutter")
    qtbot.waitUntil(lambda: bool(window.report.findings))
    return window


def test_menus_and_buttons_are_german(cutter):
    assert [action.text() for action in cutter.menu.actions()] == [
        "Datei", "Bearbeiten", "Anordnen", "Ansicht", "Schalten", "Hilfe"]
    assert cutter.actions_by_id["file.save_as"].text() == "Speichern unter …"
    assert (cutter.bar.draw.text(), cutter.bar.operate.text()) == ("Zeichnen", "Schalten")
    assert [cutter.foot.tabText(i).split()[0] for i in range(3)] == [
        "Befunde", "Schaltstellungen", "Spannungsliste"]


def test_headings_of_panels_are_german(cutter):
    names = {heading.accessibleName() for heading in cutter.findChildren(Heading)}
    assert names == {"Schapp: Teile", "Angaben: Einzelheiten"}


def test_notices_tell_their_titles_in_german(cutter):
    notices = cutter.foot.notices
    row = next(number for number, row in enumerate(notices.rows)
               if row.finding is not None and row.finding.number == "2.6")
    notices.table.setCurrentCell(row, 1)
    title = "Ein Schalter kann die laufende Lichtmaschine entlasten"
    assert notices.table.item(row, 2).text() == title
    assert notices.table.item(row, 3).text() == "Trennen"
    assert title in [label.text() for label in notices.page.findChildren(QLabel)]


def test_notices_are_found_by_german_words(cutter):
    notices = cutter.foot.notices
    notices.words.setText("lichtmaschine entlasten")
    assert {row.finding.number for row in notices.rows} == {"2.6", "6.2"}


def test_a_length_is_shown_and_typed_with_a_comma(cutter, qtbot):
    cutter.show_item("W1")
    qtbot.waitUntil(lambda: "size" in cutter.particulars.rows)
    line = cutter.particulars.rows["length_m"].editor
    assert line.text() == "1,6"
    line.setFocus()
    line.selectAll()
    QTest.keyClicks(line, "2,5")
    QTest.keyClick(line, Qt.Key.Key_Return)
    assert cutter.workspace.diagram.conductors["W1"].length_m == 2.5
    assert line.text() == "2,5"


def test_the_finder_knows_german_commands_and_the_locker_german_parts(cutter):
    assert any(text.startswith("Rückgängig") for text in cutter.commands.finder_entries())
    cutter.locker.search.setText("lichtmaschine")
    assert not cutter.locker.tiles["alternator"].isHidden()
    assert cutter.locker.tiles["fuse"].isHidden()


def test_nothing_is_cut_in_a_small_window(cutter, qtbot):
    cutter.show_item("Q1")
    qtbot.waitUntil(lambda: "name" in cutter.particulars.rows)
    cutter.particulars._toggle_more()
    QTest.qWait(50)
    cut = [words for part in (cutter.bar, cutter.locker, cutter.particulars)
           for words in cut_words(part)]
    assert cut == []
    bar = cutter.foot.findChild(QTabBar)
    assert bar.sizeHint().width() <= bar.width()


def cut_words(part) -> list[str]:
    """Return texts of which a word is wider than its label, or a line than its button."""
    found = []
    for label in part.findChildren(QLabel):
        if label.isVisible() and label.textFormat() is not Qt.TextFormat.RichText:
            metrics = QFontMetrics(label.font())
            pieces = label.text().replace("\u00ad", "- ").split() if label.wordWrap() else [
                label.text()]
            found += [piece for piece in pieces if metrics.horizontalAdvance(piece) > label.width()]
    for button in (*part.findChildren(QPushButton), *part.findChildren(QToolButton)):
        is_icon = isinstance(button, QToolButton) and not button.icon().isNull() and (
            button.toolButtonStyle() is Qt.ToolButtonStyle.ToolButtonIconOnly)
        if button.isVisible() and not is_icon:
            metrics = QFontMetrics(button.font())
            found += [line for line in button.text().splitlines()
                      if metrics.horizontalAdvance(line) > button.width()]
    return found


def test_a_language_is_kept_for_the_next_start_and_said(window, state_folder):
    window.run("view.german")
    assert "started again" in window.log.words.text()
    assert window.bar.draw.text() == "Draw"
    assert chosen_language(window_settings(state_folder)) == "de"
    marked = [action.id for action in ACTIONS if window.actions_by_id[action.id].isChecked()]
    assert "view.german" in marked and "view.english" not in marked


def test_a_start_speaks_what_was_chosen_and_the_buttons_of_dialogs_too(qapp, state_folder):
    from PySide6.QtWidgets import QDialogButtonBox

    settings = window_settings(state_folder)
    settings.setValue(KEY, "de")
    translators = begin_language(settings)
    try:
        assert not speaks_english()
        box = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        assert box.buttons()[0].text().replace("&", "") == "Abbrechen"
    finally:
        speak("en")
        if translators is not None:
            qapp.removeTranslator(translators)


def test_a_setting_that_is_no_language_follows_the_system(state_folder):
    settings = QSettings(str(state_folder / "window.ini"), QSettings.Format.IniFormat)
    settings.setValue(KEY, "klingon")
    assert chosen_language(settings) == "system"
