"""Lettering and its room: how large the letters are, and texts that end in dots."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QLabel

_scale = [1.0]


def set_lettering(scale: float) -> None:
    """Say how large the window's lettering is from now on, as a share of its usual size."""
    _scale[0] = scale


def scaled(pixels: float, most: float = 2.0) -> int:
    """Return a measure as large as it must be for the lettering. [px]"""
    return round(pixels * min(_scale[0], most))


class Elided(QLabel):
    """A line that ends in dots where the room does, and then says all when pointed at."""

    def __init__(
        self, text: str = "", mode: Qt.TextElideMode = Qt.TextElideMode.ElideRight
    ) -> None:
        super().__init__(text)
        self._mode = mode

    def minimumSizeHint(self) -> QSize:
        """Return that it may be as narrow as need be."""
        return QSize(0, super().minimumSizeHint().height())

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint what there is room for."""
        room = self.contentsRect()
        seen = self.fontMetrics().elidedText(self.text(), self._mode, room.width())
        self.setToolTip("" if seen == self.text() else self.text())
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, seen)
        painter.end()
