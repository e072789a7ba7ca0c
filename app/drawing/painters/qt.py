"""Marks by a QPainter, for the screen, for pictures, and for the parts list.

Marks are prepared once: neighbours of one pen and brush become one path, lettering becomes
outlines. So paint() is a short loop however many marks there are, and lettering is the same at
every zoom and on paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cache, lru_cache
from pathlib import Path as FilePath

from msgspec import Struct
from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontDatabase,
    QImage,
    QPainter,
    QPainterPath,
    QPen,
    QRawFont,
    QTransform,
)

from app.drawing.fonts import font_path, text_width_mm, width_em
from app.drawing.marks import (
    Arc,
    Circle,
    Face,
    Mark,
    Path,
    Rect,
    Target,
    Text,
    flat,
    rounded_corners,
)
from app.drawing.theme import Palette, colour

EM_PX = 200
MOST_OUTLINES = 1024
WINDOW_FACES: tuple[Face, ...] = ("book", "bold", "oblique")
Style = tuple[str | None, float, tuple[float, ...], str | None, bool]


class Stroke(Struct):
    """One path with the roles and width it is painted by."""

    style: Style
    path: QPainterPath

    def bounds(self) -> QRectF:
        """Return the rectangle round the stroke, its width included. [mm]."""
        out = self.style[1]
        return self.path.controlPointRect().adjusted(-out, -out, out, out)


Prepared = Sequence[Stroke]


@cache
def font(face: Face) -> QFont:
    """Return the shipped face, registered with Qt on first use."""
    number = QFontDatabase.addApplicationFont(str(font_path(face)))
    families = QFontDatabase.applicationFontFamilies(number)
    made = QFont(families[0] if families else "DejaVu Sans Condensed")
    made.setPixelSize(EM_PX)
    made.setBold("bold" in face or face == "title")
    made.setItalic("oblique" in face)
    if face != "title":
        made.setStretch(QFont.Stretch.SemiCondensed)
    made.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    return made


def register_faces() -> None:
    """Register the faces that the window uses by family name; lettering asks for its own."""
    for face in WINDOW_FACES:
        font(face)


@cache
def _outlines(face: Face) -> QRawFont:
    return QRawFont.fromFont(font(face))


@cache
def _glyph(character: str, face: Face) -> QPainterPath:
    """Return a letter's outline at EM_PX, from the face itself or else as Qt finds one."""
    outlines = _outlines(face)
    number = outlines.glyphIndexesForString(character)[0]
    if number and character.isprintable():
        return outlines.pathForGlyph(number)  # in half the time of a text's layout
    path = QPainterPath()
    path.addText(0, 0, font(face), character)
    return path


@lru_cache(maxsize=MOST_OUTLINES)
def _text_outline(text: str, face: Face, spacing_em: float) -> QPainterPath:
    """Return the lettering at EM_PX, each letter where the width table puts it, as on paper."""
    path = QPainterPath()
    x = 0.0
    for character in text:
        if character != " ":
            path.addPath(_glyph(character, face).translated(x, 0))
        x += (width_em(character, face) + spacing_em) * EM_PX
    return path


def _text_path(mark: Text) -> QPainterPath:
    width = text_width_mm(mark.text, mark.size_mm, mark.face, mark.spacing_mm)
    left = {"start": 0.0, "middle": -width / 2, "end": -width}[mark.anchor]
    scale = mark.size_mm / EM_PX
    transform = QTransform.fromTranslate(mark.x, mark.y)
    if mark.upward:
        transform.rotate(-90)
    transform.translate(left, 0)
    transform.scale(scale, scale)
    outline = _text_outline(mark.text, mark.face, mark.spacing_mm / mark.size_mm)
    return transform.map(outline)


def _path(mark: Path) -> QPainterPath:
    path = QPainterPath()
    points = [QPointF(x, y) for x, y in mark.points]
    if mark.corner_mm:
        _rounded(path, mark)
    else:
        path.moveTo(points[0])
        for point in points[1:]:
            path.lineTo(point)
    if mark.closed:
        path.closeSubpath()
    return path


def _rounded(path: QPainterPath, mark: Path) -> None:
    path.moveTo(*mark.points[0])
    for enter, corner, leave in rounded_corners(mark):
        path.lineTo(*enter)
        path.quadTo(QPointF(*corner), QPointF(*leave))
    path.lineTo(*mark.points[-1])


def _outline(mark: Mark) -> QPainterPath | None:
    if isinstance(mark, Path):
        return _path(mark)
    if isinstance(mark, Text):
        return _text_path(mark)
    path = QPainterPath()
    if isinstance(mark, Circle):
        path.addEllipse(QPointF(mark.x, mark.y), mark.r, mark.r)
    elif isinstance(mark, Rect):
        path.addRoundedRect(QRectF(mark.x, mark.y, mark.w, mark.h), mark.r, mark.r)
    elif isinstance(mark, Arc):
        around = QRectF(mark.x - mark.r, mark.y - mark.r, 2 * mark.r, 2 * mark.r)
        path.arcMoveTo(around, -mark.start_deg)
        path.arcTo(around, -mark.start_deg, -mark.span_deg)
    else:
        return None
    return path


def _style(mark: Mark) -> Style:
    if isinstance(mark, Text):
        return (None, 0.0, (), mark.role, False)
    if isinstance(mark, Arc):
        return (mark.role, mark.width_mm, (), None, False)
    if isinstance(mark, Path | Circle | Rect):
        round_joins = isinstance(mark, Path) and bool(mark.corner_mm)
        return (mark.role, mark.width_mm, mark.dash, mark.fill, round_joins)
    raise TypeError(type(mark).__name__)


def prepared(marks: Iterable[Mark]) -> Prepared:
    """Return the marks ready to be painted, joined where neighbours have one style."""
    strokes: list[Stroke] = []
    for mark in flat(marks):
        if isinstance(mark, Target):
            continue
        outline, style = _outline(mark), _style(mark)
        if outline is None:
            continue
        joinable = strokes and strokes[-1].style == style and style[3] is None
        if joinable or (strokes and strokes[-1].style == style and isinstance(mark, Text)):
            strokes[-1].path.addPath(outline)
        else:
            outline.setFillRule(Qt.FillRule.WindingFill)
            strokes.append(Stroke(style, outline))
    return strokes


@cache
def _pen(style: Style, palette: Palette) -> QPen:
    role, width, dash, _, round_joins = style
    if role is None:
        return QPen(Qt.PenStyle.NoPen)
    pen = QPen(QColor(colour(role, palette)), width)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    joins = Qt.PenJoinStyle.RoundJoin if round_joins else Qt.PenJoinStyle.MiterJoin
    pen.setJoinStyle(joins)
    if dash:
        pen.setDashPattern([part / width for part in dash])
    return pen


@cache
def _brush(fill: str | None, palette: Palette) -> QBrush:
    return QBrush(QColor(colour(fill, palette))) if fill else QBrush()


def paint(painter: QPainter, strokes: Prepared, palette: Palette = "day") -> None:
    """Paint prepared marks; the painter's unit is the millimetre."""
    for stroke in strokes:
        painter.setPen(_pen(stroke.style, palette))
        painter.setBrush(_brush(stroke.style[3], palette))
        painter.drawPath(stroke.path)


def picture(
    marks: Iterable[Mark], size_mm: tuple[float, float], dots_per_mm: float,
    palette: Palette = "day",
) -> QImage:
    """Return the marks as a picture on paper. Needs a QGuiApplication."""
    pixels = QSize(round(size_mm[0] * dots_per_mm), round(size_mm[1] * dots_per_mm))
    image = QImage(pixels, QImage.Format.Format_ARGB32_Premultiplied)
    image.fill(QColor(colour("paper", palette)))
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(dots_per_mm, dots_per_mm)
    paint(painter, prepared(marks), palette)
    painter.end()
    return image


def write_png(
    marks: Iterable[Mark], size_mm: tuple[float, float], path: FilePath, dpi: int = 200,
    palette: Palette = "day",
) -> bool:
    """Write the marks as a PNG, display or not; return whether it could be written."""
    from PySide6.QtGui import QGuiApplication

    application = QGuiApplication.instance() or QGuiApplication(
        ["loomwright", "-platform", "offscreen"])
    written = picture(marks, size_mm, dpi / 25.4, palette).save(str(path))
    del application
    return bool(written)
