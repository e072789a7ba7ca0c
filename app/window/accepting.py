"""Asks why a notice is accepted: its words above, room for a reason below."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QLabel,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from app.panels.lettering import scaled
from app.words import _

WIDTH_PX, REASON_PX = 560, 110


class AcceptDialog(QDialog):
    """The dialog; `reason` is what was written, which may be nothing."""

    def __init__(self, message: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(_("Accept with a reason"))
        told = QLabel(message)
        told.setObjectName("sectionName")
        asked = QLabel(_(
            "Why is this accepted? The reason is kept in the file and printed in the pack. "
            "The notice comes back when the facts change."))
        for label in (told, asked):
            label.setWordWrap(True)
        self._reason = QPlainTextEdit()
        self._reason.setAccessibleName(_("The reason"))
        self._reason.setTabChangesFocus(True)
        self._reason.setMinimumHeight(scaled(REASON_PX))
        buttons = QDialogButtonBox()
        buttons.addButton(_("Accept"), QDialogButtonBox.ButtonRole.AcceptRole).setDefault(True)
        buttons.addButton(QDialogButtonBox.StandardButton.Cancel)
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.setSpacing(10)
        for part in (told, asked, self._reason, buttons):
            column.addWidget(part)
        width = scaled(WIDTH_PX)
        self.resize(width, column.totalHeightForWidth(width))
        self._reason.setFocus()

    @property
    def reason(self) -> str:
        """Return the reason as it was written."""
        return self._reason.toPlainText().strip()
