"""The scene: one item for each thing on the sheet, updated where the drawing changed.

Selection, hover and preview are the scene's own and never part of a drawing. Hit tests work on
the drawing's geometry, in millimetres.
"""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QPointF, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QGraphicsScene

from app.canvas.items import MarksItem
from app.drawing.marks import Box, Circle, Mark, Path, Point, Rect
from app.drawing.place_handles import handles
from app.drawing.routing import legs
from app.drawing.sheet import SheetDrawing, SheetItem
from app.drawing.theme import Palette, colour

FRAME_LAYER, SELECTION_LAYER, ROW_LAYER, PREVIEW_LAYER, HOVER_LAYER = -1.0, 1.5, 19.0, 20.0, 21.0
PORT_REACH_MM = 2.0
LINE_REACH_MM = 1.6
SHORT_MM, SHORT_REACH_MM = 4 * PORT_REACH_MM, 1.0
GRID_FROM_SCALE = 3.0
GRID_DOT_MM = 5.0
EMPTY = SheetDrawing({}, {}, {}, {})


class SheetScene(QGraphicsScene):
    """Shows a sheet drawing and answers what is under a point."""

    def __init__(self, palette: Palette = "day") -> None:
        super().__init__()
        self.palette_name: Palette = palette
        self.drawing: SheetDrawing = EMPTY
        self.selection: frozenset[str] = frozenset()
        self._pale: frozenset[str] = frozenset()
        self._paper = QRectF()
        self._shown: dict[str, tuple[SheetItem, MarksItem]] = {}
        self._frame = self._own_item(FRAME_LAYER)
        self._selection = self._own_item(SELECTION_LAYER)
        self._chosen_rows = self._own_item(ROW_LAYER)
        self._preview = self._own_item(PREVIEW_LAYER)
        self._hover = self._own_item(HOVER_LAYER)
        self._carried = self._own_item(PREVIEW_LAYER)
        self._carried.hide()

    def _own_item(self, layer: float) -> MarksItem:
        item = MarksItem(layer, self.palette_name)
        self.addItem(item)
        return item

    def show_frame(self, size_mm: tuple[float, float], marks: Iterable[Mark]) -> None:
        """Show the paper, its frame and its title block."""
        paper, marks = QRectF(0, 0, *size_mm), tuple(marks)
        if paper == self._paper and marks == self._frame.marks:
            return  # a report came and counted as before: the sheet need not be painted again
        self._paper = paper
        self._frame.show_marks(marks, self.palette_name)
        self.setSceneRect(self._paper.adjusted(-60, -60, 60, 60))
        self.invalidate()

    def show(self, drawing: SheetDrawing) -> int:
        """Show another drawing; return how many items were touched."""
        touched = 0
        for key in [key for key in self._shown if key not in drawing.items]:
            self.removeItem(self._shown.pop(key)[1])
            touched += 1
        for key, item in drawing.items.items():
            shown = self._shown.get(key)
            if shown is None:
                graphics = MarksItem(item.layer, self.palette_name)
                self.addItem(graphics)
            elif shown[0] == item:
                continue
            else:
                graphics = shown[1]
            graphics.show_marks(item.marks, self.palette_name)
            self._shown[key] = (item, graphics)
            touched += 1
        self.drawing = drawing
        self.select(self.selection)
        return touched

    def set_palette(self, palette: Palette) -> None:
        """Show everything in another palette."""
        self.palette_name = palette
        own = [self._frame, self._selection, self._preview, self._hover, self._carried]
        for graphics in [*own, *(shown[1] for shown in self._shown.values())]:
            graphics.show_marks(graphics.marks, palette)
        self.invalidate()

    def select(self, items: Iterable[str]) -> None:
        """Show these parts and conductors as chosen; what is not drawn is left out."""
        drawing = self.drawing
        self.selection = frozenset(
            item for item in items
            if item in drawing.parts or item in drawing.paths or item in drawing.rows
            or item in drawing.places)
        marks: list[Mark] = []
        rows: list[Mark] = []
        for item in sorted(self.selection):
            if item in drawing.parts:
                marks += _chosen_box(drawing.parts[item].body.grown(1.2))
            elif item in drawing.paths:
                marks += _chosen_line(drawing.paths[item])
            elif item in drawing.places:
                marks += _chosen_place(drawing.places[item].outline)
            else:
                rows.append(_chosen_row(drawing.rows[item]))
        self._selection.show_marks(marks, self.palette_name)
        self._chosen_rows.show_marks(rows, self.palette_name)

    def carry(self, marks: Iterable[Mark]) -> None:
        """Take marks in hand: they are painted once, however often `preview` moves them."""
        self._carried.show_marks(marks, self.palette_name)
        view = next(iter(self.views()), None)
        if view is None:
            self._carried.paint_once(1.0)
        else:
            self._carried.paint_once(view.transform().m11(), view.devicePixelRatioF())

    def preview(
        self, marks: Iterable[Mark], hidden: Iterable[str] = (), carried_by: Point | None = None
    ) -> None:
        """Show what a gesture would do; the items of `hidden` ids step back meanwhile.

        What is carried shows at a step from where it stood, or not at all. [mm].
        """
        self._preview.show_marks(marks, self.palette_name)
        self._carried.setVisible(carried_by is not None)
        if carried_by is not None:
            self._carried.setPos(*carried_by)
        pale = frozenset(hidden)
        if pale != self._pale:
            self._pale = pale
            for item, graphics in self._shown.values():
                graphics.step_back(item.item in pale)

    def hover(self, marks: Iterable[Mark]) -> None:
        """Show a mark under the cursor."""
        self._hover.show_marks(marks, self.palette_name)

    def part_at(self, at: Point) -> str | None:
        """Return the smallest part whose body is under the point."""
        under = [(part.body.w * part.body.h, item) for item, part in self.drawing.parts.items()
                 if part.body.grown(0.5).holds(*at)]
        return min(under)[1] if under else None

    def load_in_row_at(self, at: Point) -> str | None:
        """Return the load that is drawn in the panel row under the point."""
        return next((item for item, box in self.drawing.rows.items() if box.holds(*at)), None)

    def port_at(self, at: Point, reach_mm: float = PORT_REACH_MM) -> tuple[str, str] | None:
        """Return the nearest terminal within reach: (component, terminal)."""
        near: list[tuple[float, str, str]] = []
        for item, part in self.drawing.parts.items():
            if not part.body.grown(reach_mm + 2).holds(*at):
                continue
            for port_id, end in part.ports.items():
                distance = max(abs(end.at[0] - at[0]), abs(end.at[1] - at[1]))
                if distance <= reach_mm:
                    near.append((distance, item, port_id))
        return min(near)[1:] if near else None

    def conductor_at(self, at: Point, reach_mm: float = LINE_REACH_MM) -> tuple[str, int] | None:
        """Return the nearest conductor within reach and which of its legs: (id, leg)."""
        near: list[tuple[float, str, int]] = []
        for item, path in self.drawing.paths.items():
            for number, (a, b) in enumerate(legs(path)):
                distance = _distance_to_leg(at, a, b)
                if distance <= reach_mm:
                    near.append((distance, item, number))
        return min(near)[1:] if near else None

    def short_conductor_at(self, at: Point) -> tuple[str, int] | None:
        """Return the conductor under the point that lies within reach of its terminals all along.

        Its middle half is its own: else nobody could point at it.
        """
        for item, path in self.drawing.paths.items():
            if len(path) != 2:
                continue
            (ax, ay), (bx, by) = path
            middle = ((3 * ax + bx) / 4, (3 * ay + by) / 4), ((ax + 3 * bx) / 4, (ay + 3 * by) / 4)
            if abs(ax - bx) + abs(ay - by) <= SHORT_MM and (
                    _distance_to_leg(at, *middle) <= SHORT_REACH_MM):
                return item, 0
        return None

    def place_edge_at(self, at: Point) -> str | None:
        """Return the place whose edge or name is under the point."""
        return next((item for item, place in self.drawing.places.items()
                     if place.is_on_edge(at, LINE_REACH_MM)), None)

    def handle_at(self, at: Point) -> tuple[str, int] | None:
        """Return the handle of a chosen place under the point: (place, number)."""
        for item in sorted(self.selection & set(self.drawing.places)):
            for number, (x, y) in enumerate(handles(self.drawing.places[item].outline)):
                if max(abs(x - at[0]), abs(y - at[1])) <= PORT_REACH_MM:
                    return item, number
        return None

    def label_at(self, at: Point) -> str | None:
        """Return the item whose lettering is under the point."""
        for item, label in self.drawing.labels.items():
            if any(box.holds(*at) for box in label.boxes()):
                return item
        return None

    def inside(self, box: Box) -> frozenset[str]:
        """Return the parts and conductors that lie wholly in the box."""
        parts = {item for item, part in self.drawing.parts.items()
                 if box.holds(part.body.x0, part.body.y0) and box.holds(part.body.x1, part.body.y1)}
        wires = {item for item, path in self.drawing.paths.items()
                 if all(box.holds(*point) for point in path)}
        return frozenset(parts | wires)

    def drawBackground(self, painter: QPainter, rect: QRectF | QRect) -> None:
        """Paint desk, paper and, when near enough, the grid's dots."""
        rect = QRectF(rect)
        painter.fillRect(rect, QColor(colour("desk", self.palette_name)))
        paper = rect.intersected(self._paper)
        painter.fillRect(paper, QColor(colour("paper", self.palette_name)))
        if painter.transform().m11() >= GRID_FROM_SCALE:
            self._paint_grid(painter, paper)

    def _paint_grid(self, painter: QPainter, area: QRectF) -> None:
        pen = QPen(QColor(colour("hair", self.palette_name)), 0.3)
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        painter.setPen(pen)
        columns = range(int(area.left() / GRID_DOT_MM), int(area.right() / GRID_DOT_MM) + 1)
        rows = range(int(area.top() / GRID_DOT_MM), int(area.bottom() / GRID_DOT_MM) + 1)
        painter.drawPoints(
            [QPointF(i * GRID_DOT_MM, j * GRID_DOT_MM) for i in columns for j in rows])


def _chosen_box(box: Box) -> list[Mark]:
    marks: list[Mark] = [
        Rect(box.x0, box.y0, box.w, box.h, 0.6, "selection", 0.3, "selection_tint")]
    for x in (box.x0, box.x1):
        for y in (box.y0, box.y1):
            marks.append(Rect(x - 0.7, y - 0.7, 1.4, 1.4, 0, "selection", 0.25, "body"))
    return marks


def _chosen_place(outline: tuple[Point, ...]) -> list[Mark]:
    return [Path(outline, "selection", 0.5, closed=True),
            *(Rect(x - 1.0, y - 1.0, 2.0, 2.0, 0, "selection", 0.3, "body")
              for x, y in handles(outline))]


def _chosen_row(box: Box) -> Mark:
    """Return a ring round a panel's row; the row stays readable inside."""
    return Rect(box.x0, box.y0, box.w, box.h, 0.6, "selection", 0.5)


def _chosen_line(path: tuple[Point, ...]) -> list[Mark]:
    return [Path(path, "selection_tint", 3.0),
            *(Circle(x, y, 0.8, "selection", 0.25, "body") for x, y in path)]


def _distance_to_leg(at: Point, a: Point, b: Point) -> float:
    x = min(max(at[0], min(a[0], b[0])), max(a[0], b[0]))
    y = min(max(at[1], min(a[1], b[1])), max(a[1], b[1]))
    return max(abs(at[0] - x), abs(at[1] - y))
