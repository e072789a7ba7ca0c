"""The sheet beside the questions: the boat as it is answered so far, on its paper."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSizeF
from PySide6.QtGui import QColor, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from app.drawing.frame import sheet_size_mm
from app.drawing.painters.qt import Prepared, paint, prepared
from app.drawing.sheet import framed_marks, sheet_drawing
from app.drawing.theme import Palette, colour
from app.words import _
from model.diagram import Diagram

MARGIN_PX = 24.0


class BoatSheet(QWidget):
    """Shows a diagram whole, as large as there is room."""

    def __init__(self, palette: Palette) -> None:
        super().__init__()
        self.palette_name = palette
        self.diagram: Diagram | None = None
        self._strokes: Prepared = ()
        self._size_mm = QSizeF(*sheet_size_mm("A3"))
        self.setMinimumSize(400, 300)
        self.setAccessibleName(_("The sheet so far"))

    def show_boat(self, diagram: Diagram) -> None:
        """Draw a diagram as far as its parts have places: the layout would make answers wait."""
        self.diagram = diagram
        drawing = sheet_drawing(diagram)
        self._strokes = prepared(framed_marks(self.diagram, drawing))
        self._size_mm = QSizeF(*sheet_size_mm(self.diagram.sheet.size))
        self.setAccessibleDescription(
            _("{parts} parts, {wires} conductors").format(
                parts=len(self.diagram.components), wires=len(self.diagram.conductors)))
        self.update()

    def set_palette(self, palette: Palette) -> None:
        """Paint in another palette."""
        self.palette_name = palette
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        """Paint the paper in the middle of the desk."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(colour("desk", self.palette_name)))
        size = self._size_mm
        scale = min((self.width() - 2 * MARGIN_PX) / size.width(),
                    (self.height() - 2 * MARGIN_PX) / size.height())
        painter.translate((self.width() - size.width() * scale) / 2,
                          (self.height() - size.height() * scale) / 2)
        painter.scale(scale, scale)
        painter.fillRect(QRectF(0, 0, size.width(), size.height()),
                         QColor(colour("paper", self.palette_name)))
        paint(painter, self._strokes, self.palette_name)
        painter.end()
