"""The log line at the bottom: where on the sheet, what the tool expects, counts, zoom, file."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QToolButton, QWidget

from app.words import _


class Sentence(QLabel):
    """A sentence that ends in dots where the room does, and then says all when pointed at."""

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint what there is room for."""
        room = self.contentsRect()
        seen = self.fontMetrics().elidedText(
            self.text(), Qt.TextElideMode.ElideRight, room.width())
        self.setToolTip("" if seen == self.text() else self.text())
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, seen)
        painter.end()


class LogLine(QWidget):
    """The line at the bottom: place on the sheet, what the tool expects, counts, zoom, state."""

    zoom_in = Signal()
    zoom_out = Signal()
    fit = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setObjectName("log")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.setFixedHeight(28)
        self.place, self.words, self.counts = QLabel(), Sentence(), QLabel()
        self.scale, self.saved = QLabel(), QLabel()
        self.mode = QLabel()
        self.mode.setObjectName("logMode")
        self.mode.setAccessibleName(_("Mode of the window"))
        self.words.setAccessibleName(_("What the program says"))
        row = QHBoxLayout(self)
        row.setContentsMargins(12, 0, 12, 0)
        row.setSpacing(14)
        self.place.setMinimumWidth(140)
        row.addWidget(self.place)
        row.addWidget(self.mode)
        row.addWidget(self.words, 1)
        row.addWidget(self.counts)
        for text, name, signal in (("−", _("Zoom out"), self.zoom_out),
                                   ("+", _("Zoom in"), self.zoom_in),
                                   (_("Fit"), _("Fit the sheet"), self.fit)):
            button = QToolButton()
            button.setText(text)
            button.setAccessibleName(name)
            button.setToolTip(name)
            button.clicked.connect(signal)
            row.addWidget(button)
        row.addWidget(self.scale)
        row.addWidget(self.saved)
