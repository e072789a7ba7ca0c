"""Importing two tables in the window: choose them, read the preview, take the boat or leave it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QLabel,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from app.exchange.incoming import Preview, preview, preview_text, read_table
from app.words import N_, _
from model.errors import ModelError

if TYPE_CHECKING:
    from app.window.files import Files
    from model.diagram import Diagram

FILTER = N_("Tables (*.csv *.txt *.tsv)")


class PreviewDialog(QDialog):
    """What was understood, guessed and refused; nothing is taken before it is accepted."""

    def __init__(self, found: Preview, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(_("Import tables"))
        self.resize(760, 560)
        refused = len(found.of("refused"))
        lead = QLabel(_("This is what the tables say. What was refused is left out.") if refused
                      else _("This is what the tables say."))
        lead.setWordWrap(True)
        self.words = QPlainTextEdit(preview_text(found))
        self.words.setReadOnly(True)
        self.words.setAccessibleName(_("What was understood, guessed and refused"))
        buttons = QDialogButtonBox()
        taking = buttons.addButton(_("Take this boat"), QDialogButtonBox.ButtonRole.AcceptRole)
        taking.setEnabled(bool(found.diagram.components))
        buttons.addButton(_("Leave it"), QDialogButtonBox.ButtonRole.RejectRole)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(lead)
        column.addWidget(self.words, 1)
        column.addWidget(buttons)


def import_tables(window: QWidget, files: Files) -> Diagram | None:
    """Ask for both tables and show the preview; return the boat when it was accepted."""
    paths = []
    for title in (_("The table of parts"), _("The table of conductors")):
        name, _kind = QFileDialog.getOpenFileName(window, title, "", _(FILTER))
        if not name:
            return None
        paths.append(Path(name))
    try:
        found = preview(read_table(paths[0]), read_table(paths[1]))
    except ModelError as error:
        files.tell(_("The tables were not read"), error.sentence)
        return None
    return found.diagram if PreviewDialog(found, window).exec() else None
