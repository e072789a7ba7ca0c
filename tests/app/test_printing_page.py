"""The print page, by mouse and keys: what is chosen is what is seen and written."""

from __future__ import annotations

import pypdf
import pytest
from PySide6.QtCore import QPoint, Qt, QTimer
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication, QFileDialog

from app.drawing.theme import colour
from app.pack.book import SHEETS, printing_edit
from app.window.printing import SHEET_WORDS, PrintPage
from model.edits import apply
from model.storage import load
from tests.bench.figures import DEMO

LEFT = Qt.MouseButton.LeftButton


def tick(qtbot, box):
    qtbot.mouseClick(box, LEFT, pos=QPoint(8, box.height() // 2))


@pytest.fixture
def page(qtbot):
    shown = PrintPage(load(DEMO))
    qtbot.addWidget(shown)
    shown.show()
    return shown


def test_every_sheet_of_the_pack_has_its_words():
    assert tuple(SHEET_WORDS) == SHEETS


def test_what_is_not_chosen_is_not_among_the_pages(qtbot, page):
    every = len(page.pages)
    tick(qtbot, page.boxes["checks"])
    qtbot.waitUntil(lambda: len(page.pages) < every)
    assert not any("check" in one.bookmark.lower() for one in page.pages)
    for name in SHEETS[:-1]:
        tick(qtbot, page.boxes[name])
    qtbot.waitUntil(lambda: page.pages == [])
    assert page.words.text() == "No sheet is chosen." and not page.writing.isEnabled()


def test_another_paper_makes_other_pages(qtbot, page):
    assert page.pages[0].size_mm == (420.0, 297.0)
    qtbot.keyClicks(page.paper, "A4")
    qtbot.waitUntil(lambda: max(page.pages[0].size_mm) == 297.0)


def test_keys_and_buttons_turn_pages_and_stop_at_the_ends(qtbot, page):
    qtbot.keyClick(page.view, Qt.Key.Key_PageUp)
    assert page.words.text().startswith("page 1 of")
    qtbot.keyClick(page.view, Qt.Key.Key_PageDown)
    assert page.words.text().startswith("page 2 of")
    for _ in range(40):
        qtbot.keyClick(page.view, Qt.Key.Key_Right)
    assert page.words.text().startswith(f"page {len(page.pages)} of")


def test_grey_shows_a_white_sheet(qtbot, page):
    def on_paper():
        picture = page.view.grab().toImage()
        return picture.pixelColor(picture.width() - 22, picture.height() // 2 + 60)

    assert on_paper() == QColor(colour("paper"))
    tick(qtbot, page.grey)
    assert on_paper() == QColor(colour("paper", "grey"))


def test_the_window_writes_what_was_chosen_and_notes_it(qtbot, hand, tmp_path, monkeypatch):
    window = hand.window
    window.files.open(DEMO)
    before = window.workspace.diagram
    path = tmp_path / "pack.pdf"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(path), ""))

    def choose():
        shown = QApplication.activeModalWidget()
        for name in SHEETS[1:]:
            tick(qtbot, shown.boxes[name])
        qtbot.mouseClick(shown.writing, LEFT)

    QTimer.singleShot(300, choose)
    qtbot.keyClick(window, Qt.Key.Key_P, Qt.KeyboardModifier.ControlModifier)
    assert len(pypdf.PdfReader(path).pages) == 1
    noted = {name for name, _, _ in window.workspace.diagram.boat.printed}
    assert noted == {"diagram", *(name for name, _, _ in before.boat.printed)}


def test_sheets_that_were_printed_before_stay_noted():
    diagram = load(DEMO)
    first = apply(diagram, printing_edit(diagram, ["diagram", "protection"]))
    second = apply(first, printing_edit(first, ["conductors"]))
    names = {name for name, _, _ in second.boat.printed}
    assert {"diagram", "protection", "conductors"} <= names
