"""One notice in full: what was found, the figures, where it stands, and what can be done."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, Qt, Signal
from PySide6.QtWidgets import (
    QBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
)

from app.panels.form_texts import FormColumn, parted
from app.panels.notice_rows import NoticeRow
from app.words import _

if TYPE_CHECKING:
    from rules.rule import Fix

WIDTH_PX, NARROW_PX = 400, 340
BUTTONS_PX = 90  # what two buttons and the margins take beside their words
ROUND_WORDS_PX = 70  # what the margins, one button's own and the bar to scroll take
UNPUBLISHED = "common practice, no source"


class NoticePage(QScrollArea):
    """Shows a row of the notices; brings what its buttons ask for."""

    fix_wanted = Signal(object)
    fix_pointed = Signal(object)  # a Fix while the pointer or the focus is on it, else None
    explain_wanted = Signal(str)
    accept_wanted = Signal(object)
    withdraw_wanted = Signal(str)
    figure_wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setFixedWidth(WIDTH_PX)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(_("The chosen notice"))
        self._fixes: dict[QObject, Fix] = {}
        self.buttons: list[QPushButton] = []
        self.show_row(None, ())

    def set_narrow(self, is_narrow: bool) -> None:
        """Take less room beside a narrow list."""
        self.setFixedWidth(NARROW_PX if is_narrow else WIDTH_PX)

    def show_row(self, row: NoticeRow | None, fixes: Sequence[Fix]) -> None:
        """Show a row, with the fixes that its rule offers; None shows how to choose one."""
        self._fixes, self.buttons = {}, []
        inside = FormColumn()
        column = QVBoxLayout(inside)
        column.setContentsMargins(14, 10, 12, 10)
        column.setSpacing(6)
        if row is None or not row.severity:
            column.addWidget(_words(_("Choose a notice to read it in full."), "plainWord"))
        else:
            self._fill(column, row, fixes)
        column.addStretch(1)
        self.setWidget(inside)

    def _fill(self, column: QVBoxLayout, row: NoticeRow, fixes: Sequence[Fix]) -> None:
        finding = row.finding
        if finding is not None:
            column.addWidget(_words(_(finding.title), "sectionName"))
        column.addWidget(_words(row.message if row.accepted is None else finding_text(row)))
        if finding is not None and finding.sources:
            column.addWidget(_words(_sources(finding.sources), "plainWord"))
        for fix in fixes:
            button = self._button(
                column, self._in_lines(fix.title), partial(self.fix_wanted.emit, fix))
            button.setAccessibleName(fix.title)
            button.setObjectName("primary" if fix.grade == "mechanical" else "")
            button.setToolTip(_("Do this as one step; Undo takes it back."))
            button.installEventFilter(self)
            self._fixes[button] = fix
        side_by_side = QBoxLayout(self._direction())
        column.addLayout(side_by_side)
        if finding is not None and finding.number:
            self._button(side_by_side, _("What this check says"),
                         partial(self.explain_wanted.emit, finding.rule))
        if finding is not None and _reads_figures(finding.rule):
            self._button(column, _("Use another figure…"),
                         partial(self.figure_wanted.emit, finding.rule))
        if row.accepted is not None:
            self._button(side_by_side, _("Take the acceptance back"),
                         partial(self.withdraw_wanted.emit, row.accepted.acceptance))
        elif finding is not None and finding.number and finding.where:
            self._button(side_by_side, _("Accept with a reason…"),
                         partial(self.accept_wanted.emit, finding))

    def _direction(self) -> QBoxLayout.Direction:
        """Return how the last two buttons stand: beside each other where there is room."""
        asked = self.fontMetrics().horizontalAdvance(
            f"{_('What this check says')} {_('Accept with a reason…')}")
        fits = asked + BUTTONS_PX <= self.width()
        return QBoxLayout.Direction.LeftToRight if fits else QBoxLayout.Direction.TopToBottom

    def _in_lines(self, text: str) -> str:
        """Return the words of a button over as many lines as they need."""
        most_px = self.width() - ROUND_WORDS_PX
        lines: list[str] = []
        for word in text.split():
            longer = f"{lines[-1]} {word}" if lines else word
            if lines and self.fontMetrics().horizontalAdvance(longer) <= most_px:
                lines[-1] = longer
            else:
                lines.append(word)
        return "\n".join(lines)

    def _button(self, column: QBoxLayout, text: str, pressed: partial[None]) -> QPushButton:
        button = QPushButton(text)
        button.clicked.connect(lambda _checked=False: pressed())
        column.addWidget(button)
        self.buttons.append(button)
        return button

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Tell which fix the pointer or the focus is on, so that the sheet can show it."""
        if watched in self._fixes:
            if event.type() in (QEvent.Type.Enter, QEvent.Type.FocusIn):
                self.fix_pointed.emit(self._fixes[watched])
            elif event.type() in (QEvent.Type.Leave, QEvent.Type.FocusOut, QEvent.Type.Hide):
                self.fix_pointed.emit(None)
        return super().eventFilter(watched, event)


def _sources(sources: Sequence[str]) -> str:
    """Return where a check comes from, in words."""
    published = [source for source in sources if source != UNPUBLISHED]
    if not published:
        return _("From common practice; no published source.")
    return _("Source: {sources}").format(sources="; ".join(published))


def _reads_figures(rule: str) -> bool:
    """Say whether a check reads a figure that the owner may put another in place of."""
    from rules.book import find  # the rule book is no part of a start

    found = find(rule)
    return found is not None and bool(found.record.figures)


def finding_text(row: NoticeRow) -> str:
    """Return what an accepted notice says, with the reason it was accepted for."""
    assert row.finding is not None and row.accepted is not None
    by = " ".join(text for text in (row.accepted.by, row.accepted.date) if text)
    accepted = _("Accepted ({by}): {reason}") if by else _("Accepted: {reason}")
    return row.finding.message + "\n\n" + accepted.format(by=by, reason=row.accepted.reason)


def _words(text: str, name: str = "") -> QLabel:
    label = QLabel(parted(text))
    label.setObjectName(name)
    label.setWordWrap(True)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    return label
