"""Leaving a window in whatever state it is: nothing typed is lost, nothing stays in hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6 import QtWidgets  # QMessageBox by need: a start asks nothing
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

if TYPE_CHECKING:
    from app.window.main_window import MainWindow


def settle(window: MainWindow) -> bool:
    """Finish what is open: a page is closed, a gesture let go, a typed figure taken.

    Return False when a question waits for its answer: it comes first.
    """
    modal = QApplication.activeModalWidget()
    if isinstance(modal, QtWidgets.QMessageBox):
        modal.raise_()
        modal.activateWindow()
        return False
    if modal is not None:
        modal.close()
    window.view.cancel()
    take_typed(window)
    return True


def take_typed(window: QWidget) -> None:
    """Take what was typed in a field and not yet left, as leaving the field does."""
    from app.panels.fields import FieldLine  # the shell has no fields yet

    line = window.focusWidget()
    if not isinstance(line, QLineEdit) or not line.isModified():
        return
    if isinstance(line, FieldLine):
        line.editingFinished.emit()  # a window in the background has no focus to take away
        line.setModified(False)
    else:
        line.clearFocus()
