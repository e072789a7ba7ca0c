"""One line over the sheet for drawing by keyboard: it opens where one works and goes again."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QEvent, QPoint, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QLineEdit, QWidget

from app.panels.lettering import Elided, scaled
from app.words import _

WIDTH, HEIGHT, MARGIN, FIELD_PX = 520, 36, 8, 160


class QuickField(QLineEdit):
    """The field; Tab is asked for as another terminal, Escape and leaving it close the line."""

    other_wanted = Signal()
    left = Signal()
    entered = Signal(bool)

    def event(self, event: QEvent) -> bool:
        """Keep Tab for the other terminal."""
        if event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent) and (
                event.key() == Qt.Key.Key_Tab):
            self.other_wanted.emit()
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter takes the line, with Shift it stays with the part; Escape leaves."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.entered.emit(bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier))
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Leave when the focus goes elsewhere, but not to the list of names."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.left.emit()


class QuickLine(QFrame):
    """The line with the words before it. `entered` brings the text and whether Shift was held."""

    entered = Signal(str, bool)
    other_wanted = Signal()
    closed = Signal()

    def __init__(self, over: QWidget) -> None:
        super().__init__(over)
        self._over = over
        self.setObjectName("quickLine")
        self.words = QLabel()
        self.words.setObjectName("quickWords")
        self.meaning = Elided()
        self.meaning.setObjectName("quickMeaning")
        self._told: Callable[[str], str] = lambda _text: ""
        self.field = QuickField()
        self.field.setMinimumWidth(FIELD_PX)
        self.field.textChanged.connect(self._tell)
        self.field.setAccessibleName(_("Quick line"))
        row = QHBoxLayout(self)
        row.setContentsMargins(MARGIN, 3, MARGIN, 3)
        row.addWidget(self.words)
        row.addWidget(self.field, 1)
        row.addWidget(self.meaning)
        self.field.entered.connect(lambda stay: self.entered.emit(self.field.text(), stay))
        self.field.other_wanted.connect(self.other_wanted)
        self.field.left.connect(self.close_line)
        self.hide()

    def open_line(
        self, words: str, hint: str, at: QPoint, told: Callable[[str], str], text: str = ""
    ) -> None:
        """Open near a point of the sheet's view, with words before the field and a hint in it.

        `told` says, while one types, what Enter would do.
        """
        self._told = told
        self.words.setText(words)
        self.field.setPlaceholderText(hint)
        self.field.setText(text)
        self._tell(text)
        room = self._over.rect()
        self.setFixedSize(min(scaled(WIDTH), room.width() - 2 * MARGIN), scaled(HEIGHT))
        self.move(min(max(at.x(), MARGIN), room.width() - self.width() - MARGIN),
                  min(max(at.y(), MARGIN), room.height() - self.height() - MARGIN))
        self.show()
        self.raise_()
        self.field.setFocus(Qt.FocusReason.OtherFocusReason)

    def _tell(self, text: str) -> None:
        self.meaning.setText(self._told(text))

    def close_line(self) -> None:
        """Go; the sheet has the keys again."""
        if self.isVisible():
            self.hide()
            self.closed.emit()
