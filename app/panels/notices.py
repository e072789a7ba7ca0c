"""The Notices: what the rule book found, in plain words, worst first."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor, QIcon, QImage, QPainter, QPixmap
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QLabel,
    QStackedWidget,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from app.drawing.badges import Badge, badge_marks
from app.drawing.marks import Box
from app.drawing.painters.qt import paint, prepared
from app.drawing.theme import Palette, colour
from app.drawing.wording import where_text
from model.diagram import Diagram

if TYPE_CHECKING:
    from rules.engine import Report
    from rules.rule import Finding

ROW_PX = 29
WIDTHS_PX = {0: 38, 1: 210, 3: 110}
TOOLTIP_SIGNS = 72
ITEM_ROLE = Qt.ItemDataRole.UserRole


def badge_picture(severity: str, number: int, palette: Palette = "day") -> QPixmap:
    """Return a severity's badge as a small picture."""
    image = QImage(QSize(44, 44), QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    marks = badge_marks([Badge(severity, number)], Box(0, 0, 6.6, 6.6))
    strokes = prepared(marks)
    painter.scale(5.6, 5.6)
    rect = strokes[0].path.boundingRect()
    for stroke in strokes:
        rect = rect.united(stroke.path.boundingRect())
    painter.translate(44 / 5.6 / 2 - rect.center().x(), 44 / 5.6 / 2 - rect.center().y())
    paint(painter, strokes, palette)
    painter.end()
    picture = QPixmap.fromImage(image)
    picture.setDevicePixelRatio(2.0)
    return picture


class Notices(QWidget):
    """The list of findings. `shown_item` brings the id to show on the sheet."""

    shown_item = Signal(str)
    counted = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("foot")
        self.findings: tuple[Finding, ...] = ()
        self.table = QTableWidget(0, 4)
        self.table.setAccessibleName("Notices: findings of the rule book")
        self.table.setHorizontalHeaderLabels(["", "Where", "Notice", "Topic"])
        self.table.verticalHeader().hide()
        self.table.setShowGrid(False)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setWordWrap(False)
        head = self.table.horizontalHeader()
        head.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        head.setSectionResizeMode(2, QHeaderView.ResizeMode.Stretch)
        head.setMinimumSectionSize(WIDTHS_PX[0])
        for section, width in WIDTHS_PX.items():
            self.table.setColumnWidth(section, width)
        self.table.setIconSize(QSize(22, 22))
        self.table.itemSelectionChanged.connect(self._chosen)
        self.empty = QLabel("The checks run as you draw.")
        self.empty.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.empty.setWordWrap(True)
        self._pages = QStackedWidget()
        self._pages.addWidget(self.table)
        self._pages.addWidget(self.empty)
        self._pages.setCurrentWidget(self.empty)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._pages)

    def show_report(self, report: Report, diagram: Diagram) -> None:
        """Show the findings of a report, and what could not be judged."""
        self.findings = tuple(report.findings)
        rows: list[tuple[str, str, str, str, tuple[str, ...]]] = [
            (f.severity, where_text(diagram, f.where), f.message, f.topic, f.where[:1])
            for f in report.findings]
        for unjudged in report.cannot_tell:
            rows.append(("cannot_tell", where_text(diagram, unjudged.where), unjudged.message,
                         unjudged.topic, unjudged.where[:1]))
        self.table.blockSignals(True)
        self.table.setRowCount(len(rows))
        for number, row in enumerate(rows):
            self._fill(number, *row)
        self.table.clearSelection()
        self.table.blockSignals(False)
        self.empty.setText(
            f"{report.rules_run} checks ran. Nothing to report from what is drawn."
            if diagram.components else "Nothing is drawn yet; checks run as you draw.")
        self._pages.setCurrentIndex(0 if rows else 1)
        self.counted.emit(report.counts())

    def _fill(
        self, number: int, severity: str, where: str, message: str, topic: str,
        item: Sequence[str],
    ) -> None:
        badge = QTableWidgetItem()
        badge.setIcon(QIcon(badge_picture(severity, number + 1)))
        badge.setData(Qt.ItemDataRole.AccessibleTextRole, severity.replace("_", " "))
        badge.setToolTip(severity.replace("_", " "))
        cells = [badge, QTableWidgetItem(where), QTableWidgetItem(message),
                 QTableWidgetItem(topic.replace("_", " "))]
        font = cells[1].font()
        font.setBold(True)
        cells[1].setFont(font)
        cells[1].setToolTip(where)
        cells[2].setToolTip(_folded(message))
        cells[3].setForeground(QColor(colour("ink2")))
        for column, cell in enumerate(cells):
            cell.setData(ITEM_ROLE, item[0] if item else "")
            self.table.setItem(number, column, cell)
        self.table.setRowHeight(number, ROW_PX)

    def _chosen(self) -> None:
        row = self.table.currentRow()
        cell = self.table.item(row, 1) if row >= 0 else None
        item = cell.data(ITEM_ROLE) if cell is not None else ""
        if item:
            self.shown_item.emit(item)


def _folded(sentence: str) -> str:
    """Return a long sentence in lines, as a tooltip shows it best."""
    return "\n".join(textwrap.wrap(sentence, TOOLTIP_SIGNS))
