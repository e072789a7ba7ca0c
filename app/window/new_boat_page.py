"""A new boat by questions: a few at a time at the left, the sheet drawn live beside them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import Qt, QTimer, Signal
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import (
    QButtonGroup,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from app.drawing.theme import Palette
from app.new_boat.answers import PAGES, Answers, Question, answered, questions_of
from app.new_boat.boat import boat_of
from app.new_boat.granted import GRANTED
from app.panels.heading import Heading
from app.panels.lettering import scaled
from app.window.new_boat_questions import QuestionRow
from app.window.new_boat_sheet import BoatSheet
from app.words import _
from model.diagram import Diagram

LEFT_PX = 424
DRAW_KEY = "Ctrl+Return"


class NewBoatPage(QWidget):
    """The page. `drawn` brings the diagram, `left` says that there is to be none."""

    drawn = Signal(object)
    left = Signal()

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self.answers = Answers()
        self.page = PAGES[0]
        self.rows: dict[str, QuestionRow] = {}
        self.sheet = BoatSheet(palette)
        self._drawing = QTimer(self)
        self._drawing.setSingleShot(True)
        self._drawing.timeout.connect(self._draw)
        self.draw = QPushButton(_("Draw this boat"))
        self.draw.setObjectName("primary")
        self.draw.setShortcut(QKeySequence(DRAW_KEY))
        self.draw.setToolTip(
            _("Put this boat on the sheet, to be changed at will.") + f" {DRAW_KEY}")
        self.draw.clicked.connect(self._finish)
        self.back, self.next = QPushButton(_("Back")), QPushButton(_("Next"))
        self.back.clicked.connect(lambda: self._turn(-1))
        self.next.clicked.connect(lambda: self._turn(1))
        self.leave = QPushButton(_("Cancel"))
        self.leave.setShortcut(QKeySequence("Esc"))
        self.leave.setToolTip(_("Go back; no boat is drawn. Esc"))
        self.leave.clicked.connect(self.left.emit)
        self.counts = QLabel()
        self.counts.setObjectName("plainWord")
        self.counts.setWordWrap(True)
        self._lay_out()
        self.show_page(self.page)
        self._draw()

    def _lay_out(self) -> None:
        self._side = QWidget()
        self._side.setObjectName("side")
        self._side.setFixedWidth(scaled(LEFT_PX))
        column = QVBoxLayout(self._side)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(Heading(_("A new boat"), _("by questions")))
        column.addLayout(self._steps())
        self._space = QScrollArea()
        self._space.setWidgetResizable(True)
        self._space.setFrameShape(QScrollArea.Shape.NoFrame)
        self._space.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        column.addWidget(self._space, 1)
        column.addLayout(self._foot())
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.setSpacing(0)
        whole.addWidget(self._side)
        whole.addWidget(self.sheet, 1)

    def set_palette(self, palette: Palette) -> None:
        """Draw the sheet in a palette's colours, and let the questions keep up with the letters."""
        self._side.setFixedWidth(scaled(LEFT_PX))
        self.sheet.set_palette(palette)

    def _steps(self) -> QHBoxLayout:
        """Return the row of pages, any of which may be gone to."""
        row = QHBoxLayout()
        row.setContentsMargins(14, 10, 14, 2)
        row.setSpacing(2)
        self.steps = QButtonGroup(self)
        for number, page in enumerate(PAGES):
            step = QToolButton()
            step.setObjectName("step")
            step.setText(_(page))
            step.setCheckable(True)
            step.setAccessibleName(_("Step {number} of {count}: {page}").format(
                number=number + 1, count=len(PAGES), page=_(page)))
            step.clicked.connect(lambda _=False, page=page: self.show_page(page))
            self.steps.addButton(step, number)
            row.addWidget(step)
        row.addStretch(1)
        return row

    def _foot(self) -> QVBoxLayout:
        ways = QHBoxLayout()
        ways.setSpacing(8)
        ways.addWidget(self.back)
        ways.addWidget(self.next)
        ways.addStretch(1)
        ways.addWidget(self.leave)
        foot = QVBoxLayout()
        foot.setContentsMargins(20, 8, 20, 16)
        foot.setSpacing(10)
        foot.addLayout(ways)
        foot.addWidget(self.draw)
        foot.addWidget(self.counts)
        return foot

    def show_page(self, page: str) -> None:
        """Ask the questions of one page."""
        self.page = page
        number = PAGES.index(page)
        self.steps.button(number).setChecked(True)
        self.back.setEnabled(number > 0)
        self.next.setEnabled(number < len(PAGES) - 1)
        self._ask()
        first = next(iter(self.rows.values()), None)
        if first is not None:
            first.take_focus()

    def _ask(self) -> None:
        questions = questions_of(self.page, self.answers)
        self.rows = {question.key: self._row(question) for question in questions}
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(20, 14, 20, 8)
        column.setSpacing(18)
        for row in self.rows.values():
            column.addWidget(row)
        if self.page == PAGES[-1]:
            column.addLayout(_granted(GRANTED))
        column.addStretch(1)
        self._space.setWidget(inside)

    def _row(self, question: Question) -> QuestionRow:
        row = QuestionRow(question, getattr(self.answers, question.key))
        row.answered.connect(self._answered)
        row.entered.connect(self._enter)
        return row

    def _answered(self, key: str, value: Any) -> None:
        """Take an answer; questions that hang on it come or go, and the sheet follows."""
        self.answers = answered(self.answers, key, value)
        asked = tuple(question.key for question in questions_of(self.page, self.answers))
        if asked != tuple(self.rows):
            # Not while the button that was pressed is still answering.
            QTimer.singleShot(0, lambda: self._ask_again(key))
        self._drawing.start(0)

    def _ask_again(self, key: str) -> None:
        self._ask()
        self.rows[key].take_focus()

    def _enter(self) -> None:
        """Go from a line to the next question of the page, or to the next page."""
        rows = list(self.rows.values())
        here = next((n for n, row in enumerate(rows) if row.line is not None
                     and row.line.hasFocus()), len(rows) - 1)
        if here + 1 < len(rows):
            rows[here + 1].take_focus()
        else:
            self._turn(1)

    def _turn(self, step: int) -> None:
        self.show_page(PAGES[PAGES.index(self.page) + step])

    def _draw(self) -> None:
        diagram = boat_of(self.answers)
        self.sheet.show_boat(diagram)
        how = _("drawn for {size}").format(size=diagram.sheet.size)
        self.counts.setText(
            _("{parts} parts, {wires} conductors, {how}").format(
                parts=len(diagram.components), wires=len(diagram.conductors), how=how))

    def _finish(self) -> None:
        self._drawing.stop()
        self.drawn.emit(self.boat())

    def boat(self) -> Diagram:
        """Return the boat as it is answered now."""
        return boat_of(self.answers)


def _granted(sentences: Sequence[str]) -> QVBoxLayout:
    """Return what is taken for granted, as a list to read."""
    column = QVBoxLayout()
    column.setSpacing(6)
    title = QLabel(_("Taken for granted until you have looked"))
    title.setObjectName("sectionName")
    column.addWidget(title)
    for sentence in sentences:
        words = QLabel(f"•  {_(sentence)}")
        words.setWordWrap(True)
        column.addWidget(words)
    return column
