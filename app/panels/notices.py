"""The Notices: what the rule book found, in plain words, worst first, and what can be done."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QStackedWidget,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.drawing.theme import Palette, colour
from app.panels.badge_picture import badge_picture, whole_icon
from app.panels.lettering import scaled
from app.panels.listing import to_be_read
from app.panels.notice_page import NoticePage
from app.panels.notice_rows import (
    Key,
    NoticeRow,
    Order,
    key_of,
    notice_rows,
    shown_rows,
    topic_words,
)
from app.words import N_, _, in_words, speaks_english
from model.diagram import Diagram

if TYPE_CHECKING:
    from rules.engine import Report
    from rules.rule import Finding, Fix

ROW_PX = 29
WIDTHS_PX = {0: 38, 1: 180, 3: 100}
NARROW_PX, NARROW_WHERE_PX, TIGHT_PX = 1000, 170, 420
TOOLTIP_SIGNS = 72
ORDERS: tuple[tuple[str, Order], ...] = (
    (N_("worst first"), "danger"), (N_("by place"), "place"), (N_("by topic"), "topic"))
Offers = Callable[["Finding"], "Sequence[Fix]"]


class Notices(QWidget):
    """The list of findings beside the chosen one in full. `shown_item` is to be shown on the sheet.

    `offers` gives the fixes of a finding; they are asked for when it is chosen.
    """

    shown_item = Signal(str)
    counted = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("foot")
        self.findings: tuple[Finding, ...] = ()
        self.offers: Offers = lambda _finding: ()
        self.rows: list[NoticeRow] = []
        self._all: list[NoticeRow] = []
        self._palette: Palette = "day"
        self._diagram = Diagram()
        self._known: frozenset[Key] | None = None
        self._new: frozenset[Key] = frozenset()
        self._checked: Diagram | None = None
        self.table = self._make_table()
        self.page = NoticePage()
        self.words = QLineEdit()
        self.words.setPlaceholderText(_("Filter the notices"))
        self.words.setAccessibleName(_("Show notices with these words"))
        self.words.setClearButtonEnabled(True)
        self.words.textChanged.connect(lambda _text: self._show_rows())
        self.order = QComboBox()
        self.order.setAccessibleName(_("Order of the notices"))
        self.order.addItems([_(title) for title, _order in ORDERS])
        self.order.currentIndexChanged.connect(lambda _index: self._show_rows())
        self.only_new = QCheckBox()
        self.only_new.setAccessibleName(_("From my last change"))
        self.only_new.setToolTip(_("Only what the last change to the diagram brought"))
        self.only_new.toggled.connect(lambda _on: self._show_rows())
        self.empty = QLabel(_("The checks run as you draw."))
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setWordWrap(True)
        self._pages = QStackedWidget()
        self._pages.addWidget(self.table)
        self._pages.addWidget(self.empty)
        self._pages.setCurrentWidget(self.empty)
        self._lay_out()

    def _make_table(self) -> QTableWidget:
        table = QTableWidget()
        to_be_read(table, ("", _("Where"), _("Notice"), _("Topic")), stretched=2)
        table.setAccessibleName(_("Notices: findings of the rule book"))
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.horizontalHeader().setMinimumSectionSize(WIDTHS_PX[0])
        table.setIconSize(QSize(22, 22))
        table.itemSelectionChanged.connect(self._chosen)
        return table

    def _lay_out(self) -> None:
        tools = QHBoxLayout()
        tools.setContentsMargins(10, 5, 10, 3)
        tools.setSpacing(8)
        tools.addWidget(self.words, 1)
        tools.addWidget(self.order)
        tools.addWidget(self.only_new)
        left = QVBoxLayout()
        left.setContentsMargins(0, 0, 0, 0)
        left.setSpacing(0)
        left.addLayout(tools)
        left.addWidget(self._pages, 1)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addLayout(left, 1)
        whole.addWidget(self.page)

    def show_report(self, report: Report, diagram: Diagram) -> None:
        """Show the findings of a report, what could not be judged, and what was accepted."""
        now = frozenset(key_of(finding) for finding in report.findings)
        if self._checked is not diagram:
            self._new = frozenset() if self._known is None else now - self._known
        self._known, self._checked = now, diagram
        self.findings = tuple(report.findings)
        self._diagram = diagram
        self._all = notice_rows(report, diagram)
        self.empty.setText(
            _("{rules_run} checks ran. Nothing to report from what is drawn.").format(
                rules_run=report.rules_run)
            if diagram.components else _("Nothing is drawn yet; checks run as you draw."))
        self._show_rows()
        self.counted.emit(report.counts())

    def choose(self, finding: Finding) -> None:
        """Choose a finding's row; what hides it is taken away."""
        self.words.clear()
        self.only_new.setChecked(False)
        for number, row in enumerate(self.rows):
            if row.finding is not None and key_of(row.finding) == key_of(finding):
                self.table.setCurrentCell(number, 1)
                self.table.setFocus()
                return

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the sentences the room, where there is little, before the topics."""
        super().resizeEvent(event)
        self._fit_width()

    def _fit_width(self) -> None:
        is_narrow = self.width() < scaled(NARROW_PX)
        self.table.setColumnHidden(3, is_narrow)
        for section, width in WIDTHS_PX.items():
            self.table.setColumnWidth(section, scaled(width))
        if is_narrow:
            self.table.setColumnWidth(1, NARROW_WHERE_PX)
        self.page.set_narrow(is_narrow)
        is_tight = self.width() - self.page.width() < scaled(TIGHT_PX)
        self.page.setHidden(is_tight and self._row() is None)  # the list has the room
        self.only_new.setText(_("New") if is_tight else _("From my last change"))

    def set_palette(self, palette: Palette) -> None:
        """Draw badges and second texts in a palette's colours."""
        self._palette = palette
        self._fit_width()
        if self.rows:
            self._show_rows(afresh=True)

    def forget(self) -> None:
        """Take the next report as the first of another diagram."""
        self._known, self._new, self._checked = None, frozenset(), None

    def _show_rows(self, afresh: bool = False) -> None:
        chosen, before = self._row(), [] if afresh else self.rows
        order = ORDERS[self.order.currentIndex()][1]
        only = self._new if self.only_new.isChecked() else None
        self.rows = shown_rows(self._all, self._diagram, order, self.words.text(), only)
        self.table.blockSignals(True)
        self.table.setRowCount(len(self.rows))
        for number, row in enumerate(self.rows):
            if before[number:number + 1] != [row]:
                self._fill(number, row)
        self.table.clearSelection()
        self._choose_again(chosen)
        self.table.blockSignals(False)
        if self._all and not self.rows:
            self.empty.setText(_("No notice has these words, or comes from the last change."))
        self._pages.setCurrentIndex(0 if self.rows else 1)
        self._show_page()

    def _choose_again(self, chosen: NoticeRow | None) -> None:
        """Keep the same notice chosen where it is still there."""
        if chosen is None or chosen.finding is None:
            return
        key = key_of(chosen.finding)
        for number, row in enumerate(self.rows):
            if row.finding is not None and key_of(row.finding) == key:
                self.table.setCurrentCell(number, 1)
                return

    def _fill(self, number: int, row: NoticeRow) -> None:
        badge = QTableWidgetItem()
        said = in_words(row.severity)
        if row.severity:
            badge.setIcon(whole_icon(
                badge_picture(row.severity, row.number, self._palette)))
            badge.setData(Qt.ItemDataRole.AccessibleTextRole, said)
            badge.setToolTip(said)
        cells = [badge, QTableWidgetItem(row.where), QTableWidgetItem(_listed(row)),
                 QTableWidgetItem(topic_words(row.topic))]
        font = cells[1].font()
        font.setBold(True)
        cells[1].setFont(font)
        cells[1].setToolTip(row.where)
        cells[2].setToolTip(_folded(row.message))
        cells[3].setForeground(QColor(colour("ink2", self._palette)))
        for column, cell in enumerate(cells):
            if not row.severity:
                cell.setFlags(Qt.ItemFlag.ItemIsEnabled)
            self.table.setItem(number, column, cell)
        self.table.setRowHeight(number, scaled(ROW_PX))

    def _row(self) -> NoticeRow | None:
        number = self.table.currentRow()
        is_chosen = bool(self.table.selectedItems())
        return self.rows[number] if is_chosen and 0 <= number < len(self.rows) else None

    def _chosen(self) -> None:
        self._show_page()
        row = self._row()
        if row is not None and row.item:
            self.shown_item.emit(row.item)

    def _show_page(self) -> None:
        row = self._row()
        has_fixes = row is not None and row.finding is not None and row.accepted is None
        fixes = self.offers(cast("Finding", row.finding)) if row is not None and has_fixes else ()
        self.page.show_row(row, fixes)
        self._fit_width()


def _listed(row: NoticeRow) -> str:
    """Return what the list says. Sentences of findings are English: elsewhere their titles stand
    there, and the sentence beside the list.
    """
    if row.finding is None or row.accepted is not None or speaks_english():
        return row.message
    return _(row.finding.title)


def _folded(sentence: str) -> str:
    """Return a long sentence in lines, as a tooltip shows it best."""
    return "\n".join(textwrap.wrap(sentence, TOOLTIP_SIGNS))
