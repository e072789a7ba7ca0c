"""The view: turns mouse, wheel, touch and keys into gestures on the sheet, in millimetres."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QDragEnterEvent,
    QDragLeaveEvent,
    QDragMoveEvent,
    QDropEvent,
    QKeyEvent,
    QMouseEvent,
    QNativeGestureEvent,
    QPainter,
    QWheelEvent,
)
from PySide6.QtWidgets import QGraphicsView, QWidget

from app.canvas.desk import Desk
from app.canvas.gestures.base import Gesture, Pointer
from app.canvas.gestures.choosing import RubberBand
from app.canvas.gestures.drawing import RING_R_MM, Connect, PlacePart, on_wire_at
from app.canvas.gestures.moving import BendLeg, MoveLabel, MoveParts
from app.canvas.gestures.operating import WorkSwitch
from app.canvas.gestures.zoning import DrawPlace, MovePlace, SizePlace
from app.drafting.branching import OnWire
from app.drawing.marks import Circle
from app.drawing.routing import legs
from app.drawing.symbols import KIND_MIME
from app.words import _
from model.kinds import catalogue

SMALLEST_SCALE, LARGEST_SCALE = 0.5, 40.0
WHEEL_STEP = 1.15
EDGE_SHARE = 0.08  # so near the edge something is not well in sight


class SheetView(QGraphicsView):
    """Shows the scene and hands the pointer to the current gesture."""

    pointed = Signal(float, float)
    scaled = Signal(float)
    menu_wanted = Signal(QPoint)
    file_dropped = Signal(str)
    figure_typed = Signal(str)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk.scene)
        # Known to PySide6, which to tell an item what it paints on would make every widget's type.
        self.setViewport(QWidget())
        self.desk = desk
        self.is_operating = False
        self.armed_kind: str | None = None
        self.armed_turn = 0
        self.is_drawing_a_place = False
        self._ghost: PlacePart | None = None
        self.gesture: Gesture | None = None
        self._panning_from: QPoint | None = None
        self._last = Pointer(0, 0)
        self.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.setViewportUpdateMode(QGraphicsView.ViewportUpdateMode.MinimalViewportUpdate)
        self.setCacheMode(QGraphicsView.CacheModeFlag.CacheBackground)
        self.setTransformationAnchor(QGraphicsView.ViewportAnchor.NoAnchor)
        self.setFrameShape(QGraphicsView.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setMouseTracking(True)
        self.setAcceptDrops(True)
        self.setAccessibleName(_("Sheet"))
        self.setAccessibleDescription(_("The wiring diagram. Parts are placed and connected here."))

    def arm(self, kind: str | None) -> None:
        """Take a kind in hand: the next click, or Enter, places one."""
        self.armed_kind = kind
        self.armed_turn = 0
        self._ghost = None
        self.is_drawing_a_place = False
        if kind is None:
            self.desk.scene.preview(())
            self.unsetCursor()
        else:
            self.setCursor(Qt.CursorShape.CrossCursor)

    def draw_place(self, is_wanted: bool) -> None:
        """Let the next drag draw a place, or no more."""
        self.arm(None)
        self.is_drawing_a_place = is_wanted
        if is_wanted:
            self.setCursor(Qt.CursorShape.CrossCursor)

    def begin_branch(self, wire: OnWire) -> None:
        """Draw a conductor from a point of another: the next click says where to."""
        self.cancel()
        self.gesture = Connect(self.desk, self._last, wire)
        self.gesture.move(self._last)

    def branch_from(self, conductor: str) -> OnWire:
        """Return where a branch leaves a conductor: under the pointer, or in its longest leg."""
        path = self.desk.scene.drawing.paths[conductor]
        under = self.desk.scene.conductor_at(self._last.at)
        if under is not None and under[0] == conductor:
            return OnWire(conductor, path, under[1], self._last.at)
        numbered = list(enumerate(legs(path)))
        leg, ((ax, ay), (bx, by)) = max(
            numbered, key=lambda item: abs(item[1][0][0] - item[1][1][0])
            + abs(item[1][0][1] - item[1][1][1]))
        return OnWire(conductor, path, leg, ((ax + bx) / 2, (ay + by) / 2))

    def last_point(self) -> tuple[float, float]:
        """Return where on the sheet the pointer was last, the view's middle when it was not."""
        seen = self.mapToScene(self.viewport().rect()).boundingRect()
        if self._last.at != (0, 0) and seen.contains(*self._last.at):
            return self._last.at
        return (seen.center().x(), seen.center().y())

    def place_armed(self) -> None:
        """Place the armed kind where the pointer was last."""
        if self.armed_kind is None:
            return
        at = Pointer(*self.last_point())
        kind, turn = self.armed_kind, self.armed_turn
        self.arm(None)
        PlacePart(self.desk, at, kind, turn).end(at)

    def fit(self, area: QRectF | None = None) -> None:
        """Show the whole sheet, or an area of it."""
        area = area or self.sceneRect().adjusted(52, 52, -52, -52)
        self.fitInView(area, Qt.AspectRatioMode.KeepAspectRatio)
        self.scaled.emit(self.transform().m11())

    def zoom(self, factor: float, at: QPointF | None = None) -> None:
        """Zoom about a point of the viewport, its middle unless given."""
        now = self.transform().m11()
        factor = min(max(now * factor, SMALLEST_SCALE), LARGEST_SCALE) / now
        anchor = at or QPointF(self.viewport().rect().center())
        before = self.mapToScene(anchor.toPoint())
        self.scale(factor, factor)
        after = self.mapToScene(anchor.toPoint())
        self.translate(after.x() - before.x(), after.y() - before.y())
        self.scaled.emit(self.transform().m11())

    def show_point(self, x: float, y: float) -> None:
        """Bring a point of the sheet to the middle of the view, unless it is well in sight."""
        seen = self.viewport().rect()
        well = seen.adjusted(*(round(share * EDGE_SHARE) for share in (
            seen.width(), seen.height(), -seen.width(), -seen.height())))
        if not well.contains(self.mapFromScene(QPointF(x, y))):
            self.centerOn(x, y)
        self.scaled.emit(self.transform().m11())

    def cancel(self) -> bool:
        """Cancel the gesture, or let go of the armed kind; return whether there was one."""
        if self.gesture is not None:
            self.gesture.cancel()
            self.gesture = None
            return True
        if self.armed_kind is not None or self.is_drawing_a_place:
            self.draw_place(False)
            return True
        return False

    def _pointer(self, event: QMouseEvent | QDropEvent) -> Pointer:
        at = self.mapToScene(event.position().toPoint())
        held = event.modifiers()
        wanted = Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.ControlModifier
        return Pointer(at.x(), at.y(), bool(held & wanted))

    def _started(self, pointer: Pointer) -> Gesture:
        """Return the gesture that a press at this point begins."""
        scene = self.desk.scene
        if self.armed_kind is not None:
            kind, turn = self.armed_kind, self.armed_turn
            if not pointer.add:
                self.arm(None)
            return PlacePart(self.desk, pointer, kind, turn)
        part = scene.part_at(pointer.at)
        if self.is_operating:
            if part is not None:
                return WorkSwitch(self.desk, pointer, part)
            return RubberBand(self.desk, pointer)
        if self.is_drawing_a_place:
            self.draw_place(False)
            return DrawPlace(self.desk, pointer)
        handle = scene.handle_at(pointer.at)
        if handle is not None:
            return SizePlace(self.desk, pointer, *handle)
        short = scene.short_conductor_at(pointer.at)
        if short is not None:
            return BendLeg(self.desk, pointer, *short)
        port = scene.port_at(pointer.at, self._port_reach_mm())
        if port is not None:
            return Connect(self.desk, pointer, port)
        if part is not None:
            return MoveParts(self.desk, pointer, part)
        label = scene.label_at(pointer.at)
        if label is not None:
            return MoveLabel(self.desk, pointer, label)
        wire = scene.conductor_at(pointer.at)
        if wire is not None:
            return BendLeg(self.desk, pointer, *wire)
        place = scene.place_edge_at(pointer.at)
        if place is not None:
            return MovePlace(self.desk, pointer, place)
        return RubberBand(self.desk, pointer)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Begin a gesture, or panning with the middle button."""
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        if event.button() == Qt.MouseButton.MiddleButton:
            self._panning_from = event.position().toPoint()
            return
        if event.button() != Qt.MouseButton.LeftButton:
            return
        pointer = self._pointer(event)
        if isinstance(self.gesture, Connect):
            self.gesture.end(pointer)
            self.gesture = None
            return
        self.gesture = self._started(pointer)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Begin a branch on a conductor; else take the second of two quick clicks as a click: a
        switch is often worked twice.
        """
        self._last = self._pointer(event)
        at = self._last.at
        wire = on_wire_at(self.desk.scene, at)
        is_bare = self.desk.scene.part_at(at) is None and self.desk.scene.port_at(at) is None
        if wire is not None and is_bare and self.gesture is None and not self.is_operating \
                and event.button() == Qt.MouseButton.LeftButton:
            self.begin_branch(wire)
            return
        self.mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the pointer."""
        if self._panning_from is not None:
            here = event.position().toPoint()
            self._pan(here - self._panning_from)
            self._panning_from = here
            return
        pointer = self._pointer(event)
        self._last = pointer
        self.pointed.emit(pointer.x, pointer.y)
        if self.gesture is not None:
            self.gesture.move(pointer)
        elif self.armed_kind is not None:
            self._show_ghost(pointer, self.armed_kind, self.armed_turn)
        else:
            self._hover(pointer)

    def _show_ghost(self, pointer: Pointer, kind: str, turn: int) -> None:
        """Show what is in hand where the pointer is."""
        ghost = self._ghost
        if ghost is None or (ghost.kind, ghost.turn) != (kind, turn):
            ghost = PlacePart(self.desk, pointer, kind, turn)
        self._ghost = ghost
        ghost.move(pointer)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """End the gesture. A click on a terminal goes on until the second click."""
        if event.button() == Qt.MouseButton.MiddleButton:
            self._panning_from = None
            return
        gesture = self.gesture
        if gesture is None or event.button() != Qt.MouseButton.LeftButton:
            return
        pointer = self._pointer(event)
        if isinstance(gesture, Connect) and _is_click(gesture.start, pointer):
            return
        self.gesture = None
        gesture.end(pointer)

    def _port_reach_mm(self) -> float:
        """Return how near a terminal a press begins a conductor: the nearer one looks, the less."""
        return min(2.0, 9.0 / self.transform().m11())

    def _hover(self, pointer: Pointer) -> None:
        """Ring the terminal under the pointer."""
        if self.is_operating:
            return
        scene = self.desk.scene
        port = scene.port_at(pointer.at, self._port_reach_mm())
        if port is None or scene.short_conductor_at(pointer.at) is not None:
            self.desk.scene.hover(())
            return
        at = self.desk.scene.drawing.parts[port[0]].port(port[1]).at
        self.desk.scene.hover((Circle(*at, RING_R_MM, "selection", 0.4),))

    def _pan(self, by: QPoint) -> None:
        scale = self.transform().m11()
        self.translate(by.x() / scale, by.y() / scale)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Escape cancels; Enter places; space turns what is in hand; a digit begins a figure."""
        if event.key() == Qt.Key.Key_Escape and self.cancel():
            return
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.armed_kind is not None:
            self.place_armed()
            return
        if event.key() == Qt.Key.Key_Space and self.armed_kind is not None:
            self.armed_turn = (self.armed_turn + 90) % 360
            self._show_ghost(self._last, self.armed_kind, self.armed_turn)
            return
        held = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if event.text().isdigit() and not held and not self.is_operating:
            self.figure_typed.emit(event.text())
            return
        super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """A wheel zooms; two fingers on a trackpad pan, or zoom while Ctrl is held."""
        pixels = event.pixelDelta()
        if not pixels.isNull() and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self._pan(pixels)
            return
        steps = event.angleDelta().y() / 120
        self.zoom(WHEEL_STEP**steps, event.position())

    def viewportEvent(self, event: QEvent) -> bool:
        """A pinch zooms."""
        if isinstance(event, QNativeGestureEvent) and (
            event.gestureType() == Qt.NativeGestureType.ZoomNativeGesture
        ):
            self.zoom(1 + event.value(), event.position())
            return True
        return super().viewportEvent(event)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Choose what is under the pointer and ask for its menu."""
        at = self.mapToScene(event.pos())
        scene = self.desk.scene
        wire = scene.conductor_at((at.x(), at.y()))
        item = (scene.part_at((at.x(), at.y())) or (wire[0] if wire else None)
                or scene.place_edge_at((at.x(), at.y())))
        if item is not None and item not in scene.selection:
            self.desk.choose({item})
        self.menu_wanted.emit(event.globalPos())

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Take kinds from the parts list, and files."""
        mime = event.mimeData()
        if mime.hasFormat(KIND_MIME) or mime.hasUrls():
            event.acceptProposedAction()

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        """Show the part that is being dragged in."""
        event.acceptProposedAction()
        kind = _dragged_kind(event)
        if kind is not None:
            self._show_ghost(self._pointer(event), kind, 0)

    def dragLeaveEvent(self, _event: QDragLeaveEvent) -> None:
        """Let go of the part that was dragged in and out again."""
        self._ghost = None
        self.desk.scene.preview(())

    def dropEvent(self, event: QDropEvent) -> None:
        """Place the part, or open the file."""
        kind = _dragged_kind(event)
        event.acceptProposedAction()
        if kind is not None:
            pointer = self._pointer(event)
            self._ghost = None
            PlacePart(self.desk, pointer, kind).end(pointer)
            self.setFocus(Qt.FocusReason.OtherFocusReason)
        elif event.mimeData().urls():
            self.file_dropped.emit(event.mimeData().urls()[0].toLocalFile())


def _dragged_kind(event: QDropEvent) -> str | None:
    mime = event.mimeData()
    if not mime.hasFormat(KIND_MIME):
        return None
    kind = bytes(mime.data(KIND_MIME).data()).decode("utf-8", "replace")
    return kind if kind in catalogue() else None


def _is_click(start: Pointer, end: Pointer) -> bool:
    return max(abs(start.x - end.x), abs(start.y - end.y)) < 0.6
