"""The start page and the questions, with real mouse and keys: from the start to a saved boat."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QFileDialog

from app.main_window import start_window
from app.new_boat.answers import PAGES, QUESTIONS
from app.recent import remember
from app.window.files import demo_path
from app.window.first_start import StartPage
from app.window.main_window import MainWindow
from app.window.new_boat_page import NewBoatPage
from model.storage import load
from tests.app.hand import LEFT, Hand

CONTROL = Qt.KeyboardModifier.ControlModifier


class Visitor(Hand):
    """A hand that counts what it presses."""

    presses = 0

    def on(self, button: QAbstractButton) -> None:
        """Click a button that can be seen."""
        assert button.isVisible() and button.isEnabled(), button.accessibleName()
        self.presses += 1
        QTest.mouseClick(button, LEFT)
        QApplication.processEvents()

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier):
        self.presses += 1
        self.key(key, held)
        QApplication.processEvents()

    def write(self, text: str) -> None:
        self.presses += len(text)
        self.qtbot.keyClicks(QApplication.focusWidget(), text)
        QApplication.processEvents()

    @property
    def start(self) -> StartPage:
        page = self.window.pages.shown
        assert isinstance(page, StartPage)
        return page

    @property
    def questions(self) -> NewBoatPage:
        page = self.window.pages.shown
        assert isinstance(page, NewBoatPage)
        return page

    def answer(self, key: str, value: object) -> None:
        """Click an answer of the page that is shown."""
        self.on(self.questions.rows[key].choices[value])


def opened(qtbot, folder: Path, path: Path | None = None) -> MainWindow:
    window = start_window(path, folder)
    window.resize(1280, 800)
    with qtbot.waitSignal(window.furnished):
        pass
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow)
    QApplication.processEvents()
    return window


def shut(window: MainWindow) -> None:
    window.files.may_leave = lambda: True  # type: ignore[method-assign]
    window.close()
    window.deleteLater()


@pytest.fixture
def visitor(qtbot, state_folder: Path):
    window = opened(qtbot, state_folder)
    yield Visitor(qtbot, window)
    shut(window)


def test_a_start_without_a_file_shows_the_cautions_first(visitor: Visitor):
    page = visitor.start
    assert page.read.hasFocus()
    assert not any(way.isEnabled() for way in page.ways())
    visitor.press(Qt.Key.Key_Space)
    assert all(way.isEnabled() for way in page.ways())
    assert page.new_boat.hasFocus() and not page.read.isVisible()


def test_the_cautions_are_confirmed_once(qtbot, state_folder: Path):
    window = opened(qtbot, state_folder)
    Visitor(qtbot, window).on(window.pages.shown.read)
    shut(window)
    again = opened(qtbot, state_folder)
    assert again.pages.shown.new_boat.isEnabled() and again.pages.shown.new_boat.hasFocus()
    shut(again)


def test_a_file_is_opened_without_a_page(qtbot, state_folder: Path):
    window = opened(qtbot, state_folder, demo_path("sloop"))
    assert window.pages.shown is None and window.view.isVisible()
    shut(window)


def test_from_the_start_to_a_saved_boat(visitor: Visitor, tmp_path: Path, monkeypatch):
    target = tmp_path / "curlew.loom"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(target), ""))
    visitor.press(Qt.Key.Key_Space)  # the cautions are read
    visitor.press(Qt.Key.Key_Space)  # a new boat
    visitor.write("Curlew")
    visitor.press(Qt.Key.Key_Return)
    visitor.write("36 ft")
    visitor.on(visitor.questions.next)
    visitor.answer("engines", 1)
    visitor.on(visitor.questions.next)
    visitor.answer("chemistry", "lfp")
    visitor.on(visitor.questions.next)
    visitor.answer("wind", True)
    visitor.on(visitor.questions.next)
    visitor.answer("thruster", True)
    visitor.on(visitor.questions.draw)
    window = visitor.window
    assert window.pages.shown is None and window.view.isVisible()
    diagram = window.workspace.diagram
    assert diagram.boat.name == "Curlew"
    assert diagram.boat.length_m == pytest.approx(36 * 0.3048)
    assert {"wind_generator", "thruster"} <= {p.kind for p in diagram.components.values()}
    assert set(window.scene.drawing.parts) == {
        p.id for p in diagram.components.values() if p.row_of is None}
    assert visitor.report().counts()["danger"] == 0
    visitor.press(Qt.Key.Key_S, CONTROL)
    assert load(target) == diagram
    assert visitor.presses == 24  # eleven of them letters


def test_the_usual_boat_is_three_keys_from_the_start(visitor: Visitor):
    visitor.press(Qt.Key.Key_Space)
    visitor.press(Qt.Key.Key_Space)
    visitor.press(Qt.Key.Key_Return, CONTROL)
    visitor.qtbot.waitUntil(lambda: visitor.window.pages.shown is None)
    assert len(visitor.window.workspace.diagram.components) > 40
    assert visitor.presses == 3


def test_every_question_is_answered_by_keys_alone(visitor: Visitor):
    visitor.press(Qt.Key.Key_Space)
    visitor.press(Qt.Key.Key_Space)
    reached = set()
    for page in PAGES:
        visitor.questions.show_page(page)
        for _ in range(40):
            visitor.press(Qt.Key.Key_Tab)
            focused = QApplication.focusWidget()
            for key, row in visitor.questions.rows.items():
                if focused is row.line or focused in row.choices.values():
                    reached.add(key)
    assert reached == {q.key for q in QUESTIONS if q.is_asked(visitor.questions.answers)}
    visitor.questions.show_page("Engine")
    for value in (0, 1, 2):
        visitor.questions.rows["engines"].choices[value].setFocus()
        visitor.press(Qt.Key.Key_Space)
        assert visitor.questions.answers.engines == value


def test_the_sheet_follows_each_answer(visitor: Visitor):
    visitor.press(Qt.Key.Key_Space)
    visitor.press(Qt.Key.Key_Space)
    page = visitor.questions
    before = page.sheet.diagram
    page.show_page("Loads")
    visitor.answer("heater", True)
    visitor.qtbot.waitUntil(lambda: page.sheet.diagram is not before)
    assert "heater" in {part.kind for part in page.sheet.diagram.components.values()}
    assert page.sheet.diagram == page.boat()


def test_questions_come_and_go_with_the_answers(visitor: Visitor):
    visitor.press(Qt.Key.Key_Space)
    visitor.press(Qt.Key.Key_Space)
    page = visitor.questions
    page.show_page("Engine")
    visitor.answer("engines", 0)
    visitor.qtbot.waitUntil(lambda: set(page.rows) == {"engines"})
    assert page.rows["engines"].choices[0].hasFocus()


@pytest.mark.parametrize("typed", ["40 m", "long", "1,200"])
def test_a_length_that_is_none_is_told_and_the_last_one_stays(visitor: Visitor, typed):
    visitor.press(Qt.Key.Key_Space)
    visitor.press(Qt.Key.Key_Space)
    row = visitor.questions.rows["length_m"]
    visitor.qtbot.mouseClick(row.line, LEFT)
    row.line.selectAll()
    visitor.write(typed)
    assert row.wrong.isVisible() and row.wrong.text()
    assert visitor.questions.answers.length_m <= 20


def test_leaving_the_questions_keeps_the_open_diagram(visitor: Visitor):
    window = visitor.window
    visitor.press(Qt.Key.Key_Space)
    visitor.on(visitor.start.empty)
    assert window.pages.shown is None and not window.workspace.diagram.components
    diagram = window.workspace.diagram
    window.actions_by_id["file.new_boat"].trigger()
    visitor.press(Qt.Key.Key_Escape)
    visitor.qtbot.waitUntil(lambda: window.pages.shown is None)
    assert window.workspace.diagram is diagram


def test_leaving_the_questions_goes_where_they_came_from(visitor: Visitor):
    visitor.press(Qt.Key.Key_Space)
    visitor.press(Qt.Key.Key_Space)
    visitor.on(visitor.questions.leave)
    assert visitor.start.isVisible()


def test_the_start_page_offers_what_was_open_with_its_picture(
    qtbot, state_folder: Path, tmp_path: Path
):
    path = tmp_path / "heron.loom"
    path.write_text(demo_path("sloop").read_text("utf-8"), "utf-8")
    remember(state_folder, path)
    window = opened(qtbot, state_folder)
    visitor = Visitor(qtbot, window)
    visitor.press(Qt.Key.Key_Space)
    way = visitor.start.recent[0]
    assert way.accessibleName() == "heron"
    qtbot.waitUntil(lambda: not way.picture.pixmap().isNull())
    visitor.on(way)
    assert window.workspace.path == path and window.pages.shown is None
    shut(window)


def test_a_demo_boat_is_two_presses_away(visitor: Visitor):
    visitor.press(Qt.Key.Key_Space)
    visitor.on(visitor.start.cutter)
    assert visitor.window.workspace.diagram == load(demo_path("cutter"))
    assert visitor.presses == 2


def test_the_menu_leads_back_to_the_start_page(visitor: Visitor):
    visitor.press(Qt.Key.Key_Space)
    visitor.on(visitor.start.cutter)
    visitor.window.actions_by_id["file.start"].trigger()
    assert visitor.start.isVisible() and not visitor.window.view.isVisible()
    visitor.on(visitor.start.back)
    assert visitor.window.pages.shown is None and visitor.window.view.isVisible()


def test_both_pages_wear_the_palette_that_is_chosen(visitor: Visitor):
    visitor.window.actions_by_id["view.night"].trigger()
    assert visitor.start.grab().toImage().pixelColor(200, 40).lightness() < 40
    visitor.press(Qt.Key.Key_Space)
    visitor.press(Qt.Key.Key_Space)
    visitor.window.actions_by_id["view.day"].trigger()
    assert visitor.questions.sheet.grab().toImage().pixelColor(4, 4).lightness() > 180


def test_everything_on_both_pages_has_a_name(visitor: Visitor):
    def nameless() -> list[QAbstractButton]:
        return [button for button in visitor.window.pages.shown.findChildren(QAbstractButton)
                if not (button.accessibleName() or button.text())
                and button.objectName() != "qt_toolbar_ext_button"]

    assert nameless() == []
    visitor.press(Qt.Key.Key_Space)
    visitor.press(Qt.Key.Key_Space)
    for page in PAGES:
        visitor.questions.show_page(page)
        assert nameless() == []
