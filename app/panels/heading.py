"""What every panel has: its name, its plain word, and the graduated rule under both."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

BAR_PX = 14.0
RULE_PX = 5


class GraduatedRule(QWidget):
    """The chart's graduation: bars of one length, dark and light in turn."""

    def __init__(self) -> None:
        super().__init__()
        self.setFixedHeight(RULE_PX)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the bars in the colours the style sheet gives."""
        painter = QPainter(self)
        edge = self.palette().color(self.foregroundRole())
        painter.fillRect(QRectF(0, 0, self.width(), 1), edge)
        painter.fillRect(QRectF(0, RULE_PX - 1, self.width(), 1), edge)
        x = 0.0
        while x < self.width():
            painter.fillRect(QRectF(x, 1, BAR_PX, RULE_PX - 2), edge)
            x += 2 * BAR_PX
        painter.end()


class Heading(QWidget):
    """A panel's name in bold, its plain word beside it in italics, the rule below."""

    def __init__(self, name: str, plain: str) -> None:
        super().__init__()
        self.setAccessibleName(f"{name}: {plain}")
        title, self.plain = QLabel(name), QLabel(plain)
        title.setObjectName("panelName")
        self.plain.setObjectName("plainWord")
        row = QHBoxLayout()
        row.setContentsMargins(14, 9, 14, 7)
        row.setSpacing(7)
        row.addWidget(title)
        row.addWidget(self.plain, 1, Qt.AlignmentFlag.AlignBottom)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(GraduatedRule())
