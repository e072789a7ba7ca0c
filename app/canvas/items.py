"""Items of the scene: each paints marks that were prepared once, and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QPainter, QPixmap
from PySide6.QtWidgets import QGraphicsItem, QStyleOptionGraphicsItem, QWidget

from app.drawing.marks import Mark
from app.drawing.painters.qt import Stroke, paint, prepared
from app.drawing.theme import Palette

MARGIN_MM = 1.0
PALE = 0.25
MANY_STROKES = 40


class MarksItem(QGraphicsItem):
    """Something drawn by marks. `show_marks` is the only way its look changes."""

    def __init__(self, layer: float, palette: Palette) -> None:
        super().__init__()
        self.setZValue(layer)
        self.palette: Palette = palette
        self.strokes: Sequence[Stroke] = ()
        self._boxes: list[QRectF] = []
        self._bounds = QRectF()
        self._picture: QPixmap | None = None
        self._picture_scale = 1.0
        self.marks: tuple[Mark, ...] = ()

    def show_marks(self, marks: Iterable[Mark], palette: Palette) -> None:
        """Take other marks, or another palette."""
        self.marks = tuple(marks)
        self.palette = palette
        self._picture = None
        self.prepareGeometryChange()
        self.strokes = prepared(self.marks)
        self._boxes = [stroke.bounds() for stroke in self.strokes]
        self._bounds = _united(self._boxes)
        has_many = len(self.strokes) > MANY_STROKES
        self.setFlag(QGraphicsItem.GraphicsItemFlag.ItemUsesExtendedStyleOption, has_many)
        self.update()

    def step_back(self, is_back: bool) -> None:
        """Go pale while a gesture carries this elsewhere; what is pale is painted only once."""
        self.setOpacity(PALE if is_back else 1.0)
        self.setCacheMode(
            QGraphicsItem.CacheMode.DeviceCoordinateCache if is_back
            else QGraphicsItem.CacheMode.NoCache)

    def paint_once(self, scale: float, ratio: float = 1.0) -> None:
        """Keep a picture of the marks for a scale, to be moved about.

        `scale` is in the screen's units a millimetre, of which each has `ratio` pixels. A cache
        of Qt's own with a fixed size is drawn a pixel to the millimetre.
        """
        size = QSize(ceil(self._bounds.width() * scale * ratio),
                     ceil(self._bounds.height() * scale * ratio))
        picture = QPixmap(size)
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.scale(scale, scale)
        painter.translate(-self._bounds.topLeft())
        paint(painter, self.strokes, self.palette)
        painter.end()
        self._picture, self._picture_scale = picture, scale

    def _paint_picture(self, painter: QPainter, picture: QPixmap) -> None:
        """Paint the picture pixel by pixel; after a zoom scaled, until it is made anew."""
        transform = painter.worldTransform()
        if abs(transform.m11() - self._picture_scale) > 1e-6:
            painter.drawPixmap(self._bounds, picture, QRectF(picture.rect()))
            return
        at = transform.map(self._bounds.topLeft()).toPoint()
        painter.save()
        painter.resetTransform()
        painter.drawPixmap(at, picture)
        painter.restore()

    def boundingRect(self) -> QRectF:
        """Return the rectangle round all strokes. [mm]."""
        return self._bounds

    def paint(
        self, painter: QPainter, option: QStyleOptionGraphicsItem, _widget: QWidget | None = None
    ) -> None:
        """Paint the prepared strokes; of many, those that lie where something is to be painted."""
        if self._picture is not None:
            self._paint_picture(painter, self._picture)
            return
        strokes = self.strokes
        if len(strokes) > MANY_STROKES:
            exposed = option.exposedRect
            strokes = [stroke for stroke, box in zip(strokes, self._boxes, strict=True)
                       if box.intersects(exposed)]
        paint(painter, strokes, self.palette)


def _united(boxes: Iterable[QRectF]) -> QRectF:
    rect = QRectF()
    for box in boxes:
        rect = rect.united(box)
    return rect.adjusted(-MARGIN_MM, -MARGIN_MM, MARGIN_MM, MARGIN_MM)
