"""The Walk list: what to go and trace or measure aboard, place by place.

A click on a row goes to the part or conductor, and to the field where the answer is typed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from app.words import _
from model.diagram import Diagram

if TYPE_CHECKING:
    from rules.engine import Report

GOES_TO_ROLE = Qt.ItemDataRole.UserRole
ROW_PX = 26


class WalkPage(QTableWidget):
    """Errands aboard in the order of one walk. `chosen` brings (item, field)."""

    chosen = Signal(str, str)

    def __init__(self) -> None:
        super().__init__(0, 4)
        self.setTabKeyNavigation(False)  # Tab goes on, the arrows go through it
        self.setAccessibleName(_("Walk list: what to trace and measure aboard"))
        self.setHorizontalHeaderLabels([
            _("Place"), _("What"), _("Find out (checks it settles)"), _("Checks")])
        self.verticalHeader().hide()
        self.setShowGrid(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        head = self.horizontalHeader()
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        head.setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        for column, width in ((0, 150), (1, 250), (3, 64)):
            self.setColumnWidth(column, width)
        self.cellClicked.connect(lambda row, _at: self._go(row))
        self.cellActivated.connect(lambda row, _at: self._go(row))

    def show_report(self, report: Report, diagram: Diagram) -> None:
        """Show what a report leaves to be found out."""
        from rules.walk_list import walk_list  # a start has no use for it

        errands = walk_list(report, diagram)
        at = self.verticalScrollBar().value()
        self.setRowCount(len(errands))
        place = ""
        for number, errand in enumerate(errands):
            texts = (errand.place if errand.place != place else "", errand.subject,
                     errand.text, str(errand.settles or ""))
            place = errand.place
            for column, text in enumerate(texts):
                cell = QTableWidgetItem(text)
                cell.setData(GOES_TO_ROLE, (errand.item, errand.wanted[0].field))
                cell.setToolTip(errand.text if column == 2 else errand.subject)
                font = cell.font()
                font.setBold(column == 0 or errand.is_trace)
                cell.setFont(font)
                self.setItem(number, column, cell)
            self.setRowHeight(number, ROW_PX)
        self.verticalScrollBar().setValue(at)

    def _go(self, row: int) -> None:
        cell = self.item(row, 0)
        if cell is not None:
            self.chosen.emit(*cell.data(GOES_TO_ROLE))
