"""Marks by reportlab: vector pages with embedded, searchable lettering, bookmarks and links."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path as FilePath

from msgspec import Struct
from reportlab.lib.colors import HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from app.drawing.fonts import FACE_FILES, font_path, text_width_mm
from app.drawing.marks import (
    Arc,
    Circle,
    Group,
    Mark,
    Path,
    Point,
    Rect,
    Target,
    Text,
    arc_points,
    rounded_corners,
)
from app.drawing.theme import Palette, colour

MM = 72 / 25.4
CIRCLE_K = 0.5522847498  # control points of a quarter circle by one cubic curve


class Page(Struct, frozen=True):
    """One page: its size, its marks, and the bookmark it is found by."""

    size_mm: tuple[float, float]
    marks: tuple[Mark, ...]
    bookmark: str
    level: int = 0


def write_pdf(
    pages: Sequence[Page], path: FilePath, title: str, author: str = "", palette: Palette = "day"
) -> None:
    """Write the pages; the same pages give the same bytes."""
    for face in FACE_FILES:
        if face not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(face, str(font_path(face))))
    canvas = Canvas(str(path), invariant=1, pageCompression=1)
    canvas.setTitle(title)
    canvas.setAuthor(author)
    canvas.setCreator("Loomwright")
    names = {mark.name for page in pages for mark in page.marks
             if isinstance(mark, Target) and mark.name}
    painter = _Painter(canvas, palette, names)
    for number, page in enumerate(pages):
        painter.page(page, f"page-{number + 1}")
    canvas.save()


class _Painter:
    def __init__(self, canvas: Canvas, palette: Palette, names: set[str]) -> None:
        self.canvas = canvas
        self.palette = palette
        self.names = names
        self.forms: dict[tuple[Mark, ...], str] = {}

    def page(self, page: Page, key: str) -> None:
        """Draw one page."""
        width, height = (size * MM for size in page.size_mm)
        self.canvas.setPageSize((width, height))
        self._define_forms(page.marks)
        self.canvas.bookmarkPage(key)
        self.canvas.addOutlineEntry(page.bookmark, key, page.level)
        self._paper(width, height)
        self.canvas.saveState()
        self.canvas.transform(MM, 0, 0, -MM, 0, height)
        for mark in page.marks:
            if isinstance(mark, Target):
                self._target(mark, height)
            else:
                self._mark(mark)
        self.canvas.restoreState()
        self.canvas.showPage()

    def _paper(self, width: float, height: float) -> None:
        """Fill the paper only where the palette's paper is not white: toner is dear."""
        paper = colour("paper", self.palette)
        if self.palette in ("day", "grey"):
            return
        self.canvas.setFillColor(HexColor(paper))
        self.canvas.rect(0, 0, width, height, stroke=0, fill=1)

    def _define_forms(self, marks: Iterable[Mark]) -> None:
        """Draw each group once, as a form that pages then repeat."""
        for mark in marks:
            if not isinstance(mark, Group) or mark.marks in self.forms:
                continue
            name = self.forms[mark.marks] = f"symbol{len(self.forms) + 1}"
            self.canvas.beginForm(name, -500, -500, 500, 500)
            for inner in mark.marks:
                self._mark(inner)
            self.canvas.endForm()

    def _target(self, mark: Target, height: float) -> None:
        box = mark.box
        area = (box.x0 * MM, height - box.y1 * MM, box.x1 * MM, height - box.y0 * MM)
        if mark.name:
            self.canvas.bookmarkPage(mark.name, fit="FitR", left=area[0] - 60,
                                     bottom=area[1] - 60, right=area[2] + 60, top=area[3] + 60)
        if mark.goes_to in self.names:
            self.canvas.linkRect("", mark.goes_to, area, relative=0, thickness=0)

    def _mark(self, mark: Mark) -> None:
        if isinstance(mark, Group):
            self.canvas.saveState()
            self.canvas.translate(mark.x, mark.y)
            self.canvas.doForm(self.forms[mark.marks])
            self.canvas.restoreState()
        elif isinstance(mark, Text):
            self._text(mark)
        elif isinstance(mark, Arc):
            self._stroke(Path(tuple(arc_points(mark, 24)), mark.role, mark.width_mm), None)
        elif isinstance(mark, Path | Circle | Rect):
            self._stroke(mark, mark.fill)

    def _stroke(self, mark: Path | Circle | Rect, fill: str | None) -> None:
        canvas = self.canvas
        role = mark.role
        if role is not None:
            canvas.setStrokeColor(HexColor(colour(role, self.palette)))
            canvas.setLineWidth(mark.width_mm)
            canvas.setDash(list(mark.dash))
            canvas.setLineJoin(1 if isinstance(mark, Path) and mark.corner_mm else 0)
        if fill is not None:
            canvas.setFillColor(HexColor(colour(fill, self.palette)))
        path = canvas.beginPath()
        _outline(path, mark)
        canvas.drawPath(path, stroke=int(role is not None), fill=int(fill is not None))

    def _text(self, mark: Text) -> None:
        canvas = self.canvas
        width = text_width_mm(mark.text, mark.size_mm, mark.face, mark.spacing_mm)
        left = {"start": 0.0, "middle": -width / 2, "end": -width}[mark.anchor]
        canvas.saveState()
        canvas.translate(mark.x, mark.y)
        canvas.scale(1, -1)
        if mark.upward:
            canvas.rotate(90)
        canvas.setFillColor(HexColor(colour(mark.role, self.palette)))
        text = canvas.beginText(left, 0)
        text.setFont(mark.face, mark.size_mm)
        if mark.spacing_mm:
            text.setCharSpace(mark.spacing_mm)
        text.textOut(mark.text)
        canvas.drawText(text)
        canvas.restoreState()


def _outline(path: PDFPathObject, mark: Path | Circle | Rect) -> None:
    if isinstance(mark, Circle):
        path.circle(mark.x, mark.y, mark.r)
    elif isinstance(mark, Rect):
        if mark.r:
            path.roundRect(mark.x, mark.y, mark.w, mark.h, mark.r)
        else:
            path.rect(mark.x, mark.y, mark.w, mark.h)
    else:
        _lines(path, mark)


def _lines(path: PDFPathObject, mark: Path) -> None:
    points = mark.points
    path.moveTo(*points[0])
    if mark.corner_mm:
        for enter, corner, leave in rounded_corners(mark):
            path.lineTo(*enter)
            path.curveTo(*_bent(enter, corner), *_bent(leave, corner), *leave)
        path.lineTo(*points[-1])
    else:
        for point in points[1:]:
            path.lineTo(*point)
    if mark.closed:
        path.close()


def _bent(end: Point, corner: Point) -> Point:
    """Return the control point that bends a cubic curve into a quarter circle."""
    return (end[0] + (corner[0] - end[0]) * CIRCLE_K, end[1] + (corner[1] - end[1]) * CIRCLE_K)
