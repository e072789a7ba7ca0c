"""A severity's badge as a small picture, for lists and counters."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage, QPainter, QPixmap

from app.drawing.badges import Badge, badge_marks
from app.drawing.marks import Box
from app.drawing.painters.qt import paint, prepared
from app.drawing.theme import Palette


def badge_picture(severity: str, number: int, palette: Palette = "day") -> QPixmap:
    """Return a severity's badge, with the notice's number in it unless that is 0."""
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
