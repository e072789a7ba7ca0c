"""A table of the foot: its columns keep up with the lettering, and empty it says why."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem

from app.panels.lettering import scaled

STRETCHED = 0  # the width of the column that takes the room the others leave
MOST_TAKEN = 0.55  # by those others


def to_be_read(table: QTableWidget, titles: Sequence[str], stretched: int | None) -> None:
    """Make a table one of rows to read, under these titles; one column may take the room left."""
    table.setColumnCount(len(titles))
    table.setHorizontalHeaderLabels(list(titles))
    table.setTabKeyNavigation(False)  # Tab goes on, the arrows go through it
    table.verticalHeader().hide()
    table.setShowGrid(False)
    table.setWordWrap(False)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    head = table.horizontalHeader()
    head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    head.setHighlightSections(False)
    if stretched is not None:
        head.setSectionResizeMode(stretched, QHeaderView.ResizeMode.Stretch)


class Listing(QTableWidget):
    """Rows to read. `empty` is what stands in the place of rows when there are none."""

    def __init__(
        self, titles: Sequence[str], widths_px: Sequence[int], row_px: int, empty: str
    ) -> None:
        super().__init__()
        self._widths_px, self._row_px, self._empty = tuple(widths_px), row_px, empty
        stretched = self._widths_px.index(STRETCHED) if STRETCHED in self._widths_px else None
        to_be_read(self, titles, stretched)
        self.fit_lettering()

    def fit_lettering(self) -> None:
        """Make columns and rows as large as the lettering wants them."""
        self._fit_columns()
        for row in range(self.rowCount()):
            self.setRowHeight(row, scaled(self._row_px))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the stretched column its share."""
        super().resizeEvent(event)
        self._fit_columns()

    def _fit_columns(self) -> None:
        widths = [scaled(width) for width in self._widths_px]
        # Not by the viewport: PySide6 makes the types of all widgets there are to find out its own.
        share = min(1.0, MOST_TAKEN * self.maximumViewportSize().width() / sum(widths))
        for column, width in enumerate(widths):
            if width != STRETCHED:
                self.setColumnWidth(column, round(share * width))

    def put(self, row: int, texts: Sequence[str]) -> list[QTableWidgetItem]:
        """Fill a row with texts, each of which is read in full when it is pointed at."""
        cells = [QTableWidgetItem(text) for text in texts]
        for column, cell in enumerate(cells):
            cell.setToolTip(cell.text())
            self.setItem(row, column, cell)
        self.setRowHeight(row, scaled(self._row_px))
        return cells

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the rows, or why there are none."""
        super().paintEvent(event)
        if self.rowCount():
            return
        painter = QPainter(self.viewport())
        painter.setPen(self.palette().color(self.foregroundRole()))
        painter.drawText(self.viewport().rect(), Qt.AlignmentFlag.AlignCenter
                         | Qt.TextFlag.TextWordWrap, self._empty)
        painter.end()
