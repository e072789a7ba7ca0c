"""One question of a new boat: its words, its choices or a line to type in, and why it is asked."""

from __future__ import annotations

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from app.new_boat.answers import LARGEST_M, SMALLEST_M, YES_NO, Question
from app.typed import read_quantity, shown_quantity
from app.words import _
from model.errors import ModelError

LEAST_PX = 52  # a short word stays whole when it is bold


class QuestionRow(QWidget):
    """A question. `answered` tells its key and the new answer."""

    answered = Signal(str, object)
    entered = Signal()

    def __init__(self, question: Question, value: Any) -> None:
        super().__init__()
        self.question = question
        self.choices: dict[Any, QPushButton] = {}
        self.line: QLineEdit | None = None
        self.wrong = QLabel()
        self.wrong.setObjectName("wrong")
        self.wrong.hide()
        words = QLabel(_(question.words))
        words.setObjectName("sectionName")
        why = QLabel(_(question.why))
        why.setObjectName("plainWord")
        why.setWordWrap(True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        if question.choices == YES_NO:
            row = QHBoxLayout()
            row.addWidget(words, 1)
            row.addLayout(self._buttons(value))
            column.addLayout(row)
        else:
            column.addWidget(words)
            column.addLayout(self._buttons(value) if question.choices else self._typed(value))
        column.addWidget(self.wrong)
        column.addWidget(why)

    def _buttons(self, value: Any) -> QHBoxLayout:
        """Return the choices side by side, one of which is chosen."""
        row = QHBoxLayout()
        row.setSpacing(6)
        group = QButtonGroup(self)
        group.setExclusive(True)
        for choice in self.question.choices:
            button = QPushButton(_(choice.words))
            button.setObjectName("choice")
            button.setCheckable(True)
            button.setMinimumWidth(LEAST_PX)
            button.setChecked(choice.value == value)
            button.setAccessibleName(f"{_(self.question.words)} {_(choice.words)}")
            button.setAccessibleDescription(_(self.question.why))
            button.clicked.connect(
                lambda _=False, value=choice.value: self.answered.emit(self.question.key, value))
            group.addButton(button)
            row.addWidget(button, 0 if self.question.choices == YES_NO else 1)
            self.choices[choice.value] = button
        return row

    def _typed(self, value: Any) -> QHBoxLayout:
        is_length = self.question.key == "length_m"
        self.line = QLineEdit(shown_quantity(value, "m") if is_length else str(value))
        self.line.setAccessibleName(_(self.question.words))
        self.line.setAccessibleDescription(_(self.question.why))
        self.line.setPlaceholderText(_("11 m, 36 ft") if is_length else _("Her name"))
        self.line.textEdited.connect(self._read_length if is_length else self._read_text)
        self.line.returnPressed.connect(self.entered.emit)
        row = QHBoxLayout()
        row.addWidget(self.line)
        return row

    def _read_text(self, text: str) -> None:
        self.answered.emit(self.question.key, text.strip())

    def _read_length(self, text: str) -> None:
        """Take a length as it is typed; what is none is said, and the last one stays."""
        try:
            length_m = read_quantity(text, "m")
        except ModelError as error:
            self._say(error.sentence)
            return
        if not SMALLEST_M <= length_m <= LARGEST_M:
            self._say(_("From {least} to {most} m.").format(
                least=f"{SMALLEST_M:g}", most=f"{LARGEST_M:g}"))
            return
        self._say("")
        self.answered.emit(self.question.key, length_m)

    def _say(self, sentence: str) -> None:
        self.wrong.setText(sentence)
        self.wrong.setVisible(bool(sentence))

    def take_focus(self) -> None:
        """Go to the line, or to the choice that is chosen."""
        chosen = next((b for b in self.choices.values() if b.isChecked()), None)
        widget = self.line or chosen
        if widget is not None:
            widget.setFocus(Qt.FocusReason.TabFocusReason)
            if self.line is not None:
                self.line.selectAll()
