"""The window's menus, made from the table of actions."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMenu

from app.actions import MENUS, of_menu
from app.panels.lettering import scaled
from app.words import _

if TYPE_CHECKING:
    from app.window.main_window import MainWindow

MOST_LISTED, PATH_PX = 30, 480


def whole_menu(window: MainWindow) -> QMenu:
    """Return the menu of every command, a part for each group."""
    menu = QMenu(window)
    for title in MENUS:
        part = menu.addMenu(_(title))
        groups: dict[str, QMenu] = {}
        for action in of_menu(title):
            if action.group and action.group not in groups:
                groups[action.group] = part.addMenu(_(action.group))
            groups.get(action.group, part).addAction(window.actions_by_id[action.id])
        if title == "File":
            recent = part.addMenu(_("Recent files"))
            recent.aboutToShow.connect(partial(_fill_recent, window, recent))
        if title == "Edit":
            steps = part.addMenu(_("Take back several steps"))
            steps.aboutToShow.connect(partial(_fill_steps, window, steps))
    return menu


def edit_menu(window: MainWindow) -> QMenu:
    """Return the menu that opens on the sheet."""
    menu = QMenu(window)
    for action in of_menu("Edit"):
        menu.addAction(window.actions_by_id[action.id])
    arrange = menu.addMenu(_("Arrange"))
    for action in of_menu("Arrange"):
        arrange.addAction(window.actions_by_id[action.id])
    return menu


def _fill_recent(window: MainWindow, menu: QMenu) -> None:
    menu.clear()
    if not window.is_furnished:
        return
    menu.setToolTipsVisible(True)
    for path in window.files.recent():
        shown = menu.fontMetrics().elidedText(
            str(path), Qt.TextElideMode.ElideMiddle, scaled(PATH_PX)).replace("&", "&&")
        menu.addAction(shown, partial(window.commands.open_file, path)).setToolTip(str(path))
    menu.setEnabled(True)
    if menu.isEmpty():
        menu.addAction(_("None yet")).setEnabled(False)


def _fill_steps(window: MainWindow, menu: QMenu) -> None:
    menu.clear()
    titles = window.workspace.steps[:MOST_LISTED] if window.is_furnished else ()
    for number, title in enumerate(titles, start=1):
        menu.addAction(title, partial(window.commands.undo, number))
    if menu.isEmpty():
        menu.addAction(_("Nothing to take back")).setEnabled(False)
