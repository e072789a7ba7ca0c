"""Editors of single fields: they take what people type and say why when it cannot be.

A field that cannot be read keeps its old value; the words under it tell what was expected.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from app.panels.choice_words import choice_words, unit_words
from app.panels.form_texts import MOST_WIDENED, TITLE_PX
from app.panels.lettering import scaled
from app.typed import listed, read_quantity, shown_list, shown_quantity
from app.words import N_, _, decimal, hyphenated, within
from model.diagram import Known
from model.kinds.record import Field
from model.units import QuantityError

UNKNOWN = "?"
LONG_UNIT = 3  # letters of a unit that leave no room for "unknown" beside it
HOW_KNOWN = (("?", None), ("M", "maker"), ("X", "measured"), ("E", "estimated"))
HOW_TITLES = {"?": N_("not known how"), "M": N_("from the maker"),
              "X": N_("measured"), "E": N_("estimated")}
Setter = Callable[[Any, Known | None], str | None]


class FieldLine(QLineEdit):
    """A line whose undo key is the diagram's own while nothing new was typed in it."""

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window when there is nothing typed to take back."""
        is_offered = event.type() == QEvent.Type.ShortcutOverride and isinstance(event, QKeyEvent)
        if is_offered and not self.isModified():
            steps = (QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo)
            if any(event.matches(step) for step in steps):  # type: ignore[attr-defined]
                event.ignore()
                return False
        return super().event(event)


class FieldRow(QWidget):
    """A field's title, its editor with the unit in italics, and the letter of how it is known.

    `setter` gets the value and how it is known, and returns a sentence when it is refused.
    """

    def __init__(self, field: Field, value: Any, known: Known | None, setter: Setter) -> None:
        super().__init__()
        self.field = field
        self._value = value
        self._known = known
        self._setter = setter
        self._wrong = QLabel()
        self._wrong.setObjectName("wrong")
        self._wrong.setWordWrap(True)
        self._wrong.hide()
        title = QLabel(hyphenated(field.title))
        title.setFixedWidth(scaled(TITLE_PX, MOST_WIDENED))
        title.setWordWrap(True)
        title.setToolTip(_hover(field))
        self.editor = self._editor()
        self.editor.setAccessibleName(_(field.title))
        self.editor.setAccessibleDescription(_hover(field))
        title.setBuddy(self.editor)
        row = QHBoxLayout()
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(title)
        row.addWidget(self.editor, 1)
        if field.unit:
            unit = QLabel(unit_words(field.unit))
            unit.setObjectName("unit")
            row.addWidget(unit)
        if field.type in ("number", "count"):
            row.addWidget(self._known_box())
        self._line = row
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(row)
        column.addWidget(self._wrong)

    def would_settle(self, what: str) -> None:
        """Say in the empty field what filling it in is good for."""
        if isinstance(self.editor, QLineEdit):
            self.editor.setPlaceholderText(_("unknown, {what}").format(what=what))
        elif isinstance(self.editor, QComboBox):
            self.editor.setItemText(0, f"{UNKNOWN}  {what}")
        good_for = _("This {what}.").format(what=what)
        self.editor.setToolTip(f"{self.editor.toolTip()} {good_for}".strip())

    def add(self, widget: QWidget) -> None:
        """Put something at the end of the row."""
        self._line.addWidget(widget)

    def _editor(self) -> QWidget:
        if self.field.type in ("choice", "yes_no"):
            return self._choices()
        line = FieldLine(shown_value(self.field, self._value))
        line.setCursorPosition(0)
        suggestion = self.field.typical
        if suggestion is not None and suggestion.value is not None:
            often = decimal(str(suggestion.value))
            line.setPlaceholderText(_("often {value}").format(value=often))
            line.setToolTip(
                _("Often {value} ({source}). Not used unless typed.").format(
                    value=often, source=suggestion.source))
        else:
            is_narrow = len(unit_words(self.field.unit)) > LONG_UNIT
            line.setPlaceholderText(UNKNOWN if is_narrow else _("unknown"))
            line.setToolTip(line.text())  # which may be longer than the field
        line.editingFinished.connect(lambda: self._typed(line))
        return line

    def _choices(self) -> QComboBox:
        box = QComboBox()
        options = ("yes", "no") if self.field.type == "yes_no" else self.field.choices
        box.addItem(UNKNOWN, None)
        for option in options:
            value = option == "yes" if self.field.type == "yes_no" else option
            box.addItem(choice_words(option), value)
        index = next((i for i in range(box.count()) if box.itemData(i) == self._value), 0)
        box.setCurrentIndex(index)
        box.activated.connect(lambda i: self._put(box.itemData(i)))
        box.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        # Long words are cut in the form, which has one width, and are whole in the list.
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        return box

    def _known_box(self) -> QComboBox:
        box = QComboBox()
        box.setFixedWidth(scaled(46))
        box.setAccessibleName(_("How {title} is known").format(title=within(self.field.title)))
        for letter, value in HOW_KNOWN:
            box.addItem(letter, value)
            box.setItemData(box.count() - 1, _(HOW_TITLES[letter]), Qt.ItemDataRole.ToolTipRole)
        box.setCurrentIndex(next(
            (i for i, (_, value) in enumerate(HOW_KNOWN) if value == self._known), 0))
        box.activated.connect(lambda i: self._how(box.itemData(i)))
        letters = ", ".join(f"{letter} {_(words)}" for letter, words in HOW_TITLES.items())
        box.setToolTip(_("How it is known: {letters}").format(letters=letters))
        box.setAccessibleDescription(box.toolTip())
        return box

    def _how(self, known: Known | None) -> None:
        self._known = known
        if self._value is not None:
            self._put(self._value)

    def _typed(self, line: QLineEdit) -> None:
        text = line.text().strip()
        if text == shown_value(self.field, self._value):
            self._say(None)
            return
        try:
            value = read_value(self.field, text)
        except QuantityError as error:
            self._say(str(error))
            line.setText(shown_value(self.field, self._value))
            return
        self._put(value)
        line.setText(shown_value(self.field, self._value))

    def _put(self, value: Any) -> None:
        problem = self._setter(value, self._known)
        self._say(problem)
        if problem is None:
            self._value = value

    def _say(self, sentence: str | None) -> None:
        self._wrong.setText(sentence or "")
        self._wrong.setVisible(bool(sentence))


def type_on(editor: QWidget, text: str | None) -> None:
    """Give the focus back to a field, with what was typed so far."""
    editor.setFocus(Qt.FocusReason.OtherFocusReason)
    if isinstance(editor, QLineEdit):
        if text is None:
            editor.selectAll()
        else:
            editor.setText(text)
            editor.setModified(True)


def shown_value(field: Field, value: Any) -> str:
    """Return a value as it stands in its field; unknown is an empty field."""
    if value is None:
        return ""
    if field.type == "number":
        return shown_quantity(value)
    if field.type in ("ids", "numbers"):
        return shown_list(value)
    return str(value)


def read_value(field: Field, text: str) -> Any:
    """Return what was typed as the field's value, None for unknown; raise QuantityError."""
    if text in ("", UNKNOWN):
        return None
    if field.type == "number":
        return read_quantity(text, field.unit)
    if field.type == "count":
        number = read_quantity(text, "")
        if number != int(number):
            raise QuantityError(text, _("a whole number"))
        return int(number)
    if field.type == "ids":
        return tuple(part.strip() for part in text.split(",") if part.strip())
    if field.type == "numbers":
        return tuple(read_quantity(part, field.unit) for part in listed(text))
    return text


def _hover(field: Field) -> str:
    parts: Sequence[str] = [
        _(field.sentence),
        _("Read by the checks {checks}.").format(checks=", ".join(field.checks))
        if field.checks else "",
    ]
    return " ".join(part for part in parts if part) or _(field.title)
