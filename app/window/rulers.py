"""The view in its graduated border, as a chart has one: rulers with the sheet's field letters."""

from __future__ import annotations

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QGridLayout, QWidget

from app.canvas.view import SheetView
from app.drawing.theme import Palette, colour

WIDTH, LETTER_PX = 20, 12
FIELD_MM = 50.0
BAR_MM = 5.0
LETTERS = "ABCDEFGHJKLMNP"


class Ruler(QWidget):
    """One ruler: bars of 5 mm, dark and light in turn, and the fields of 50 mm."""

    def __init__(self, view: SheetView, is_level: bool) -> None:
        super().__init__()
        self._view, self._is_level = view, is_level
        self.palette_name: Palette = "day"
        if is_level:
            self.setFixedHeight(WIDTH)
        else:
            self.setFixedWidth(WIDTH)

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the graduation where the sheet is now."""
        painter = QPainter(self)
        painter.fillRect(self.rect(), QColor(colour("panel", self.palette_name)))
        transform = self._view.viewportTransform()
        scale = transform.m11()
        origin = transform.map(QPointF(0, 0))
        start = origin.x() if self._is_level else origin.y()
        length = self.width() if self._is_level else self.height()
        step = BAR_MM * scale
        while step < 12:
            step *= 2
        self._paint_bars(painter, start, step, length)
        self._paint_fields(painter, start, FIELD_MM * scale, length)
        painter.end()

    def _paint_bars(self, painter: QPainter, start: float, step: float, length: int) -> None:
        ink = QColor(colour("ink2", self.palette_name))
        number = int(-start / step) - 1
        while start + number * step < length:
            at = start + number * step
            if number % 2 == 0:
                band = (QRectF(at, WIDTH - 4, step, 4) if self._is_level
                        else QRectF(WIDTH - 4, at, 4, step))
                painter.fillRect(band, ink)
            number += 1

    def _paint_fields(self, painter: QPainter, start: float, step: float, length: int) -> None:
        painter.setPen(QColor(colour("ink2", self.palette_name)))
        font = painter.font()
        font.setPixelSize(LETTER_PX)  # as the ruler, which does not grow with the lettering
        painter.setFont(font)
        for number in range(len(LETTERS)):
            at = start + number * step
            if at > length or at + step < 0:
                continue
            name = str(number + 1) if self._is_level else LETTERS[number]
            low, high = max(at, 0), min(at + step, length)
            if high - low < WIDTH - 4:  # no room for a whole letter
                continue
            box = (QRectF(low, 0, high - low, WIDTH - 4) if self._is_level
                   else QRectF(0, low, WIDTH - 4, high - low))
            painter.drawText(box, Qt.AlignmentFlag.AlignCenter, name)


class FramedView(QWidget):
    """The view with a ruler above and one at its left."""

    def __init__(self, view: SheetView) -> None:
        super().__init__()
        self.level, self.upright = Ruler(view, True), Ruler(view, False)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setSpacing(0)
        grid.addWidget(QWidget(), 0, 0)
        grid.addWidget(self.level, 0, 1)
        grid.addWidget(self.upright, 1, 0)
        grid.addWidget(view, 1, 1)
        view.scaled.connect(self.follow)
        view.horizontalScrollBar().valueChanged.connect(self.follow)
        view.verticalScrollBar().valueChanged.connect(self.follow)

    def set_palette(self, palette: Palette) -> None:
        """Paint the rulers in a palette's colours."""
        self.level.palette_name = self.upright.palette_name = palette
        self.follow()

    def follow(self, _value: float = 0.0) -> None:
        """Paint the rulers again, after the view moved."""
        self.level.update()
        self.upright.update()


def field_name(x_mm: float, y_mm: float) -> str:
    """Return the field of the sheet a point lies in, as "C7"."""
    column, row = int(x_mm // FIELD_MM), int(y_mm // FIELD_MM)
    if column < 0 or not 0 <= row < len(LETTERS):
        return ""
    return f"{LETTERS[row]}{column + 1}"
