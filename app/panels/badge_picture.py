"""A severity's badge as a small picture, for lists and counters."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QIcon, QImage, QPainter, QPixmap

from app.drawing.badges import Badge, badge_marks
from app.drawing.marks import Box
from app.drawing.painters.qt import paint, prepared
from app.drawing.theme import Palette

SIDE_MM = 7.86  # of a badge with the ground about it

def badge_picture(
    severity: str, number: int, palette: Palette = "day", side_px: int = 22
) -> QPixmap:
    """Return a severity's badge, with the notice's number in it unless that is 0."""
    image = QImage(QSize(2 * side_px, 2 * side_px), QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    marks = badge_marks([Badge(severity, number)], Box(0, 0, 6.6, 6.6))
    strokes = prepared(marks)
    scale = side_px / SIDE_MM * 2
    painter.scale(scale, scale)
    rect = strokes[0].path.boundingRect()
    for stroke in strokes:
        rect = rect.united(stroke.path.boundingRect())
    painter.translate(SIDE_MM / 2 - rect.center().x(), SIDE_MM / 2 - rect.center().y())
    paint(painter, strokes, palette)
    painter.end()
    picture = QPixmap.fromImage(image)
    picture.setDevicePixelRatio(2.0)
    return picture


def whole_icon(picture: QPixmap) -> QIcon:
    """Return a picture as an icon of the same colours when its row is chosen."""
    icon = QIcon()
    icon.addPixmap(picture, QIcon.Mode.Normal)
    icon.addPixmap(picture, QIcon.Mode.Selected)
    return icon
