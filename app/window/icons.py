"""The bar's icons, drawn by the program: a box of 20 px, round strokes of 1.5 px, no fills."""

from __future__ import annotations

import math
from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QImage, QPainter, QPainterPath, QPen, QPixmap

BOX_PX = 20
STROKE_PX = 1.5
_RATIO = 2


def icon(name: str, colour: str, disabled: str, checked: str) -> QIcon:
    """Return an icon by name, in the colours of its states; raise KeyError for no such icon."""
    made = QIcon()
    made.addPixmap(_picture(name, colour), QIcon.Mode.Normal, QIcon.State.Off)
    made.addPixmap(_picture(name, checked), QIcon.Mode.Normal, QIcon.State.On)
    made.addPixmap(_picture(name, disabled), QIcon.Mode.Disabled, QIcon.State.Off)
    return made


def _picture(name: str, colour: str) -> QPixmap:
    image = QImage(QSize(BOX_PX, BOX_PX) * _RATIO, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(_RATIO, _RATIO)
    painter.setPen(QPen(QColor(colour), STROKE_PX, Qt.PenStyle.SolidLine,
                        Qt.PenCapStyle.RoundCap, Qt.PenJoinStyle.RoundJoin))
    painter.drawPath(_PATHS[name]())
    painter.end()
    picture = QPixmap.fromImage(image)
    picture.setDevicePixelRatio(_RATIO)
    return picture


def _line(path: QPainterPath, *points: tuple[float, float]) -> None:
    path.moveTo(QPointF(*points[0]))
    for point in points[1:]:
        path.lineTo(QPointF(*point))


def _undo() -> QPainterPath:
    """Return an arrow that goes back to the left, round a half turn."""
    path = QPainterPath()
    _line(path, (7.5, 3.5), (3.5, 7.5), (7.5, 11.5))
    _line(path, (3.5, 7.5), (12.0, 7.5))
    path.arcTo(QRectF(7.5, 7.5, 9, 9), 90, -180)
    path.lineTo(8.0, 16.5)
    return path


def _redo() -> QPainterPath:
    """Return the undo arrow seen in a mirror."""
    path = QPainterPath()
    _line(path, (12.5, 3.5), (16.5, 7.5), (12.5, 11.5))
    _line(path, (16.5, 7.5), (8.0, 7.5))
    path.arcTo(QRectF(3.5, 7.5, 9, 9), 90, 180)
    path.lineTo(12.0, 16.5)
    return path


def _sun() -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(QPointF(10, 10), 3.6, 3.6)
    for number in range(8):
        a = math.radians(45 * number)
        _line(path, (10 + 6 * math.cos(a), 10 + 6 * math.sin(a)),
              (10 + 8.3 * math.cos(a), 10 + 8.3 * math.sin(a)))
    return path


def _horizon() -> QPainterPath:
    """Return the sun half under the horizon."""
    path = QPainterPath()
    path.arcMoveTo(QRectF(6.2, 8.7, 7.6, 7.6), 0)
    path.arcTo(QRectF(6.2, 8.7, 7.6, 7.6), 0, 180)
    for degrees in (45, 90, 135):
        a = math.radians(degrees)
        _line(path, (10 + 6 * math.cos(a), 12.5 - 6 * math.sin(a)),
              (10 + 8.3 * math.cos(a), 12.5 - 8.3 * math.sin(a)))
    _line(path, (2.5, 12.5), (17.5, 12.5))
    _line(path, (6.5, 15.5), (13.5, 15.5))
    return path


def _moon() -> QPainterPath:
    """Return a crescent."""
    disc, bite = QPainterPath(), QPainterPath()
    disc.addEllipse(QPointF(9.5, 10.5), 6.5, 6.5)
    bite.addEllipse(QPointF(12.5, 7.8), 5.6, 5.6)
    return disc.subtracted(bite)


def _menu() -> QPainterPath:
    path = QPainterPath()
    for y in (5.5, 10.0, 14.5):
        _line(path, (3.5, y), (16.5, y))
    return path


def _fit() -> QPainterPath:
    """Return four corners."""
    path = QPainterPath()
    for sx in (-1, 1):
        for sy in (-1, 1):
            _line(path, (10 + 2.5 * sx, 10 + 6 * sy), (10 + 6 * sx, 10 + 6 * sy),
                  (10 + 6 * sx, 10 + 2.5 * sy))
    return path


_PATHS: dict[str, Callable[[], QPainterPath]] = {
    "undo": _undo, "redo": _redo, "day": _sun, "dusk": _horizon, "night": _moon, "menu": _menu,
    "fit": _fit,
}
