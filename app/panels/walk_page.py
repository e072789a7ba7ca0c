"""The Walk list: what to go and trace or measure aboard, place by place.

A click on a row goes to the part or conductor, and to the field where the answer is typed.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView

from app.panels.listing import STRETCHED, Listing
from app.words import _
from model.diagram import Diagram

if TYPE_CHECKING:
    from rules.engine import Report

GOES_TO_ROLE = Qt.ItemDataRole.UserRole
ROW_PX = 26


class WalkPage(Listing):
    """Errands aboard in the order of one walk. `chosen` brings (item, field)."""

    chosen = Signal(str, str)

    def __init__(self) -> None:
        titles = _("Place"), _("What"), _("Find out (checks it settles)"), _("Checks")
        super().__init__(titles, (150, 250, STRETCHED, 76), ROW_PX,
                         _("Of what is drawn, nothing is left to trace or measure."))
        self.setAccessibleName(_("Walk list: what to trace and measure aboard"))
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
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
            for column, cell in enumerate(self.put(number, texts)):
                cell.setData(GOES_TO_ROLE, (errand.item, errand.wanted[0].field))
                font = cell.font()
                font.setBold(column == 0 or errand.is_trace)
                cell.setFont(font)
        self.verticalScrollBar().setValue(at)

    def _go(self, row: int) -> None:
        cell = self.item(row, 0)
        if cell is not None:
            self.chosen.emit(*cell.data(GOES_TO_ROLE))
