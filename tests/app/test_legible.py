"""Nothing is cut, covered or too faint: in large lettering, with long names, in every palette.

The ratios are those of WCAG 2 (1.4.3): 4.5 for text; 3 for what cannot be pressed is our own.
"""

from __future__ import annotations

import pytest
from PySide6.QtGui import QGuiApplication, QPalette
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox

from app.drawing.theme import PALETTES, colour
from app.panels.lettering import Elided, set_lettering
from app.panels.listing import Listing
from app.window.accepting import AcceptDialog
from app.window.colours import TEXT_SCALES, wear
from app.window.replacing import ReplaceDialog
from app.window.shortcut_sheet import ShortcutSheet
from tests.app.drawing.test_theme import contrast
from tests.app.test_german_window import cut_words
from tests.boat_builder import Boat

LONG = "Emergency bilge pump of the forward watertight compartment beneath the sail locker"
GROUP, ROLE = QPalette.ColorGroup, QPalette.ColorRole


@pytest.fixture
def small_large(window, qtbot):
    """The large demo on a small screen in the largest lettering."""
    window.resize(1280, 800)
    window.colours.scale_text(len(TEXT_SCALES))
    window.commands.open_demo("cutter")
    qtbot.waitUntil(lambda: bool(window.report.findings))
    yield window
    set_lettering(1.0)


@pytest.mark.parametrize("chosen", ["G1", "W2", "P1", "X1", "engine"])
def test_a_form_is_as_wide_as_its_panel_whatever_is_chosen(small_large, chosen):
    window = small_large
    window.desk.choose({chosen})
    QApplication.processEvents()
    window.particulars._toggle_more()
    QTest.qWait(30)
    area = window.particulars._area
    assert area.widget().width() <= area.viewport().width()
    rows = window.particulars.rows.values()
    assert all(row.x() + row.width() <= area.viewport().width() for row in rows)


def test_in_large_lettering_nothing_is_cut_on_a_small_screen(small_large):
    window = small_large
    QTest.qWait(50)
    cut = [words for part in (window.bar, window.locker, window.particulars, window.foot)
           for words in cut_words(part)]
    assert cut == []
    tabs = window.foot.tabBar()
    assert tabs.sizeHint().width() <= tabs.width()


def test_fields_are_as_high_as_large_lettering(small_large):
    for box in small_large.particulars.findChildren(QComboBox):
        assert box.height() >= box.fontMetrics().height() + 6


def test_dialogs_stay_on_a_small_screen(small_large, qtbot):
    window = small_large
    boat = Boat().fuse("F1").diagram()
    named = boat.components["F1"].changed(name=LONG * 3)
    boat = boat.changed(components=boat.components.with_item("F1", named))
    for dialog in (AcceptDialog(LONG * 4, window), ReplaceDialog(window, boat, "F1", []),
                   ShortcutSheet(window)):
        dialog.show()
        QApplication.processEvents()
        assert dialog.width() <= window.width() and dialog.height() <= window.height()
        assert cut_words(dialog) == []
        dialog.close()


def test_a_long_name_ends_in_dots_and_is_read_when_pointed_at(qtbot):
    line = Elided(LONG)
    qtbot.addWidget(line)
    line.resize(100, 20)
    line.grab()
    assert line.toolTip() == LONG
    line.resize(1000, 20)
    line.grab()
    assert line.toolTip() == ""


def test_a_list_without_rows_says_why(qtbot):
    table = Listing(("Part", "Name"), (70, 0), 26, "Nothing is drawn.")
    qtbot.addWidget(table)
    table.resize(400, 200)
    empty = table.viewport().grab().toImage()
    table.setRowCount(1)
    table.put(0, ("", ""))
    assert table.viewport().grab().toImage() != empty
    assert [cell.toolTip() for cell in table.put(0, ("F1", LONG))] == ["F1", LONG]


@pytest.mark.parametrize("palette", PALETTES)
def test_what_the_toolkit_paints_is_legible_and_in_the_windows_colours(qapp, palette):
    wear(palette)
    worn = QGuiApplication.palette()
    for text, ground in ((ROLE.Text, ROLE.Base), (ROLE.WindowText, ROLE.Window),
                         (ROLE.ButtonText, ROLE.Button), (ROLE.HighlightedText, ROLE.Highlight),
                         (ROLE.PlaceholderText, ROLE.Base), (ROLE.Link, ROLE.Base)):
        assert contrast(worn.color(text).name(), worn.color(ground).name()) >= 4.5, text
    for text, ground in ((ROLE.Text, ROLE.Base), (ROLE.ButtonText, ROLE.Button)):
        assert contrast(worn.color(GROUP.Disabled, text).name(), worn.color(ground).name()) >= 3
    assert worn.color(ROLE.Base).name().upper() == colour("field", palette)
    wear("day")


@pytest.mark.parametrize(("role", "ground", "least"), [
    ("primary_text", "primary", 4.5), ("dead_text", "panel", 3.0), ("dead_text", "button", 3.0),
    ("dead_text", "field", 3.0), ("bar_dim", "bar", 3.0), ("hint", "field", 4.5),
    ("ink2", "panel", 4.5), ("ink2", "button", 4.5), ("bar_text2", "bar", 4.5)])
@pytest.mark.parametrize("palette", PALETTES)
def test_lettering_is_legible_in_every_palette(role, ground, least, palette):
    assert contrast(colour(role, palette), colour(ground, palette)) >= least


@pytest.mark.parametrize("sign", ["unsaved", "warning"])
def test_no_message_glares_at_night(window, sign):
    from app.window import messages

    window.run("view.night")
    box = messages.message(window, "", LONG,
                           messages.QUESTION if sign == "unsaved" else messages.WARNING)
    box.show()
    QApplication.processEvents()
    picture = box.grab().toImage()
    most = max(picture.pixelColor(x, y).blue() for x in range(0, picture.width(), 2)
               for y in range(0, picture.height(), 2))
    assert most <= 0x8C  # the least that no night colour goes over
    box.close()
    window.run("view.day")


def test_only_long_words_are_parted():
    from app.panels.form_texts import parted

    assert parted("-Q1.MAIN.BATTERY.SWITCH") == "-Q1.\u200bMAIN.\u200bBATTERY.\u200bSWITCH"
    assert parted("An inverter-charger of the engine space") == (
        "An inverter-charger of the engine space")
    longest = max(parted("Vorschiffsbilgenpumpenschalter").split("\u200b"), key=len)
    assert len(longest) <= 16
