"""Messages that must be read, with a sign in the window's own colours: none glares at night."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6 import QtWidgets  # its types by need: a start says nothing

from app.panels.badge_picture import badge_picture

if TYPE_CHECKING:
    from app.window.main_window import MainWindow

SIGN_PX = 40
WARNING, QUESTION = "fault", "cannot_tell"  # by the shapes that say so everywhere else


def message(window: MainWindow, title: str, text: str, sign: str) -> QtWidgets.QMessageBox:
    """Return a message before it is shown."""
    box = QtWidgets.QMessageBox(window)
    box.setWindowTitle(title)
    box.setIconPixmap(badge_picture(sign, 0, window.palette_name, SIGN_PX))
    box.setText(text)
    return box


def warn(window: MainWindow, title: str, sentence: str) -> None:
    """Show a sentence until it was read."""
    message(window, title, sentence, WARNING).exec()


def ask(window: MainWindow, title: str, question: str) -> bool:
    """Ask a yes or no question; leaving it unanswered is no."""
    box = message(window, title, question, QUESTION)
    yes, no = QtWidgets.QMessageBox.StandardButton.Yes, QtWidgets.QMessageBox.StandardButton.No
    box.setStandardButtons(yes | no)
    box.setDefaultButton(yes)
    return box.exec() == yes
