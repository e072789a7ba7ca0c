"""Items of the scene: each paints marks that were prepared once, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QRectF
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from app.drawing.marks import Mark
from app.drawing.painters.qt import Prepared, paint, prepared
from app.drawing.theme import Palette

MARGIN_MM = 1.0


class MarksItem(QGraphicsItem):
    """Something drawn by marks. `show_marks` is the only way its look changes."""

    def __init__(self, layer: float, palette: Palette) -> None:
        super().__init__()
        self.setZValue(layer)
        self.palette: Palette = palette
        self.strokes: Prepared = ()
        self._bounds = QRectF()
        self.marks: tuple[Mark, ...] = ()

    def show_marks(self, marks: Iterable[Mark], palette: Palette) -> None:
        """Take other marks, or another palette."""
        self.marks = tuple(marks)
        self.palette = palette
        self.prepareGeometryChange()
        self.strokes = prepared(self.marks)
        self._bounds = _bounds(self.strokes)
        self.update()

    def boundingRect(self) -> QRectF:
        """Return the rectangle round all strokes. [mm]."""
        return self._bounds

    def paint(
        self, painter: QPainter, _option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the prepared strokes."""
        paint(painter, self.strokes, self.palette)


def _bounds(strokes: Sequence[object]) -> QRectF:
    rect = QRectF()
    for stroke in strokes:
        rect = rect.united(stroke.path.boundingRect())  # type: ignore[attr-defined]
    return rect.adjusted(-MARGIN_MM, -MARGIN_MM, MARGIN_MM, MARGIN_MM)
