"""Every control has a name for those who hear the window, and can be gone to by Tab."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QAbstractItemView, QAbstractScrollArea, QApplication, QDialog, QWidget

from app.drawing.theme import NIGHTS, colour
from app.exchange.incoming import Preview
from app.window.files import Files
from app.window.help import HelpWindow
from app.window.importing import PreviewDialog
from app.window.own_figure import OwnFigureDialog
from app.window.printing import PrintPage
from app.window.replacing import ReplaceDialog
from app.window.shortcut_sheet import ShortcutSheet
from model.diagram import Diagram
from rules.profiles import profile_of
from tests.app.drawing.test_theme import contrast

INNER = ("QComboBoxPrivateContainer", "QTableView", "QComboBox")


def controls(root: QWidget) -> list[QWidget]:
    """What Tab may go to, without the inner parts of Qt's own controls."""
    return [widget for widget in (root, *root.findChildren(QWidget))
            if widget.focusPolicy() & Qt.FocusPolicy.TabFocus and not is_inner(widget)]


def is_inner(widget: QWidget) -> bool:
    """Say whether a widget belongs to the workings of a combo box, an area or a table."""
    parent = widget.parentWidget()
    within = parent.metaObject().className() if parent is not None else ""
    is_viewport = isinstance(parent, QAbstractScrollArea) and parent.viewport() is widget
    return is_viewport or widget.objectName().startswith("qt_") or within in INNER


def heard(widget: QWidget) -> str:
    """The name that is read out."""
    return QAccessible.queryAccessibleInterface(widget).text(QAccessible.Text.Name).strip()


def nameless(root: QWidget) -> list[str]:
    """The controls that say nothing of themselves, or not what they are."""
    found = []
    for widget in controls(root):
        role = QAccessible.queryAccessibleInterface(widget).role()
        if not heard(widget) or role == QAccessible.Role.NoRole:
            found.append(f"{type(widget).__name__} {widget.objectName()} in "
                         f"{type(widget.parentWidget()).__name__}")
    return found


@pytest.mark.parametrize("chosen", [(), ("G1",), ("Q1",), ("W2",), ("G1", "F1"), ("P4",)])
def test_every_control_of_the_window_has_a_name_and_a_role(window, boat, chosen):
    window.workspace.start_new(boat)
    window.desk.choose(set(chosen))
    QApplication.processEvents()
    window.particulars._toggle_more()
    QApplication.processEvents()
    assert "\n".join(sorted(set(nameless(window)))) == ""


@pytest.fixture(scope="module")
def boat() -> Diagram:
    from app.new_boat.answers import Answers
    from app.new_boat.boat import boat_of

    return boat_of(Answers())


@pytest.mark.parametrize("page", ["start", "questions"])
def test_every_control_of_the_pages_has_a_name_and_a_role(window, page):
    window.pages.show_start() if page == "start" else window.pages.show_questions()
    assert nameless(window.pages.shown) == []


DIALOGS: dict[str, Callable[[Diagram], QDialog]] = {
    "help": lambda _boat: HelpWindow(),
    "shortcuts": lambda _boat: ShortcutSheet(),
    "print": lambda boat: PrintPage(boat),
    "replace": lambda boat: ReplaceDialog(None, boat, "G1", []),
    "figure": lambda boat: OwnFigureDialog([profile_of(boat.boat)["heater_on_inverter_w"]]),
    "import": lambda boat: PreviewDialog(Preview(boat, ())),
}


@pytest.mark.parametrize("name", DIALOGS)
def test_every_control_of_a_dialog_has_a_name_and_a_role(qtbot, boat, name):
    dialog = DIALOGS[name](boat)
    qtbot.addWidget(dialog)
    assert nameless(dialog) == []


@pytest.mark.parametrize("ask", ["unsaved", "about", "accept"])
def test_every_control_of_a_question_has_a_name_and_a_role(window, small_boat, ask):
    from rules.engine import check

    window.workspace.start_new(small_boat, is_work=True)
    ways: dict[str, Callable[[], object]] = {
        "unsaved": lambda: Files.may_leave(window.files),
        "about": window.commands.show_about,
        "accept": lambda: window.judging.ask_reason(check(small_boat).findings[0]),
    }
    missing: list[list[str]] = []

    def hear() -> None:
        asked = QApplication.activeModalWidget()
        missing.append(nameless(asked))
        asked.close()

    QTimer.singleShot(100, hear)
    ways[ask]()
    assert missing == [[]]


def test_tab_goes_to_every_control_in_sight_and_comes_round(qtbot, window, boat):
    window.workspace.start_new(boat)
    window.desk.choose({"Q1"})
    QApplication.processEvents()
    window.bar.finder.setFocus()
    seen = [QApplication.focusWidget()]
    for _ in range(300):  # a line with two links takes two presses
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        if QApplication.focusWidget() is seen[0]:
            break
        seen.append(QApplication.focusWidget())
    missed = [widget for widget in controls(window) if widget.isVisible() and widget.isEnabled()
              and widget not in seen and widget.focusProxy() is None]
    assert "; ".join(f"{type(widget).__name__} {heard(widget)}" for widget in missed) == ""
    assert QApplication.focusWidget() is seen[0]


def test_no_table_holds_the_tab_key(window):
    assert [table.accessibleName() for table in window.findChildren(QAbstractItemView)
            if table.tabKeyNavigation()] == []


def test_enter_presses_the_button_that_has_the_focus(qtbot, window):
    window.pages.show_start()
    page = window.pages.shown
    page.read.setFocus()
    qtbot.keyClick(page.read, Qt.Key.Key_Return)
    assert page.new_boat.isEnabled() and not page.read.isVisible()


GROUNDS = ("panel", "field", "button", "selection_tint")


@pytest.mark.parametrize("palette", ["day", "dusk"])
@pytest.mark.parametrize("role", ["ink", "ink2", "magenta", "selection"])
def test_the_windows_lettering_stands_out_from_every_ground(role, palette):
    ratios = {ground: contrast(colour(role, palette), colour(ground, palette))
              for ground in GROUNDS}
    assert min(ratios.values()) >= 4.5, ratios


@pytest.mark.parametrize(("role", "ground", "least"), [
    ("bar_text", "bar", 4.5), ("bar_text2", "bar", 4.5), ("hint", "field", 4.5),
    ("dead_text", "panel", 4.5), ("bar", "bar_text", 4.5), ("white", "selection", 4.5)])
@pytest.mark.parametrize("palette", ["day", "dusk"])
def test_bar_hints_and_what_cannot_be_pressed_are_legible(role, ground, least, palette):
    assert contrast(colour(role, palette), colour(ground, palette)) >= least


@pytest.mark.parametrize(("role", "least"), [
    ("ink", 5.6), ("ink2", 4.4), ("magenta", 8.4), ("hint", 3.9), ("selection", 8.4)])
def test_at_night_the_windows_lettering_is_as_dim_as_designed_and_no_dimmer(role, least):
    assert contrast(colour(role, NIGHTS[0]), colour("panel", NIGHTS[0])) >= least
    assert contrast(colour(role, NIGHTS[0]), colour("button", NIGHTS[0])) >= least


def test_what_has_the_focus_differs_from_what_has_not_in_every_palette():
    for palette in ("day", "dusk", "night", "grey"):
        ring = colour("selection", palette)
        for ground in ("panel", "field", "button", "paper"):
            assert contrast(ring, colour(ground, palette)) >= 3.0
