"""The pages that stand in the place of the diagram: the start page, and the questions."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.drawing.theme import Palette
from app.words import _
from model.diagram import Diagram

if TYPE_CHECKING:
    from app.window.first_start import StartPage
    from app.window.main_window import MainWindow
    from app.window.new_boat_page import NewBoatPage


class Pages:
    """Shows one page at a time where the room of the diagram is. A diagram that comes closes it."""

    def __init__(
        self, window: MainWindow, room: QWidget, column: QVBoxLayout, settings: QSettings
    ) -> None:
        self._window, self._room, self._column = window, room, column
        self._settings = settings
        self.shown: StartPage | NewBoatPage | None = None
        self.is_start = False
        self._wear: Callable[[Palette], object] = lambda _palette: None
        window.workspace.listeners.append(self._changed)

    def show_start(self) -> None:
        """Show the start page."""
        from app.window.first_start import StartPage  # a start with a file has no use for it

        window = self._window
        page = StartPage(window.palette_name, window.files.recent(), self._settings)
        page.asked.connect(self.show_questions)
        page.demo.connect(lambda name: window.commands.open_demo(name))
        page.opening.connect(window.commands.open_dialog)
        page.opened.connect(self._open)
        page.emptied.connect(window.commands.new_diagram)
        page.left.connect(self.close)
        page.back.setVisible(bool(window.workspace.diagram.components))
        self._show(page, lambda _palette: self.show_start())
        self.is_start = True
        page.take_focus()

    def show_questions(self) -> None:
        """Show the questions of a new boat."""
        from app.window.new_boat_page import NewBoatPage  # a start has no use for it

        back = self.show_start if self.is_start else self.close
        page = NewBoatPage(self._window.palette_name)
        page.drawn.connect(self._take)
        page.left.connect(back)
        self._show(page, page.set_palette)
        page.show_page(page.page)
        self._window.say(_("Answer what you know; the sheet follows. Ctrl+Return draws the boat."))

    def set_palette(self, palette: Palette) -> None:
        """Show the page that is shown in another palette."""
        if self.shown is not None:
            self._wear(palette)

    def close(self) -> None:
        """Give the place back to the diagram."""
        if self.shown is None:
            return
        self._column.removeWidget(self.shown)
        self.shown.hide()
        self.shown.deleteLater()
        self.shown, self.is_start = None, False
        self._room.show()
        self._window.view.setFocus()

    def _show(
        self, page: StartPage | NewBoatPage, wear: Callable[[Palette], object]
    ) -> None:
        self.close()
        self._wear = wear
        self._room.hide()
        self._column.insertWidget(1, page, 1)
        self.shown = page
        page.show()

    def _open(self, path: Path) -> None:
        self._window.files.open(path)
        self._window.view.fit()

    def _take(self, diagram: Diagram) -> None:
        if self._window.files.take_new(diagram, _("A new boat. Click a part to put it right.")):
            self._window.view.fit()
            self._window.view.setFocus()

    def _changed(self, before: Diagram, diagram: Diagram) -> None:
        if before is not diagram:
            self.close()
