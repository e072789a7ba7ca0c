"""The sheet on the screen: a frame at 1:1 against one bare painter, and a step of a drag."""

from __future__ import annotations

import statistics
import tempfile
from collections.abc import Callable, Iterable
from pathlib import Path

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QTransform
from PySide6.QtWidgets import QApplication, QWidget

from app.canvas.gestures.base import Pointer
from app.canvas.gestures.moving import MoveParts
from app.canvas.items import MarksItem
from app.canvas.scene import SheetScene
from app.drafting.parts import place_edit
from app.drawing.painters.qt import Prepared, paint
from app.drawing.routing import legs
from app.main_window import open_window
from app.window.main_window import PIXELS_PER_MM, MainWindow
from tests.bench.figures import DEMO, RUNS, Figure, timed_ms

FRAMES = 10
STEPS = 20


class Bare(QWidget):
    """Paints the same marks at the same place with one painter, and nothing else."""

    def __init__(self, scene: SheetScene, transform: QTransform, seen: QRectF) -> None:
        super().__init__()
        self._scene, self._transform, self._seen = scene, transform, seen
        items = [item for item in scene.items(seen) if isinstance(item, MarksItem)]
        items.sort(key=lambda item: item.zValue())
        self._strokes: list[Prepared] = [
            [stroke for stroke in item.strokes if stroke.bounds().intersects(seen)]
            for item in items]

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setTransform(self._transform)
        self._scene.drawBackground(painter, self._seen)
        for strokes in self._strokes:
            paint(painter, strokes, self._scene.palette_name)
        painter.end()


def opened(folder: Path) -> MainWindow:
    """The large demo in a window at 1:1, with its report come."""
    (folder / "window.ini").touch()
    window = open_window(DEMO, folder)
    window.resize(1600, 1000)
    window.show()
    while window.report is None:
        QApplication.processEvents()
    window.view.setTransform(QTransform.fromScale(PIXELS_PER_MM, PIXELS_PER_MM))
    window.view.centerOn(window.view.sceneRect().center())
    QApplication.processEvents()
    return window


def shut(window: MainWindow) -> None:
    """Close without a question; nothing is to be kept."""
    window.files.may_leave = lambda: True  # type: ignore[method-assign]
    window.close()
    window.deleteLater()


def frame(runs: int = RUNS) -> list[Figure]:
    """Grab the view and the bare widget in turn."""
    with tempfile.TemporaryDirectory() as folder:
        window = opened(Path(folder))
        port = window.view.viewport()
        seen = window.view.mapToScene(port.rect()).boundingRect()
        bare = Bare(window.scene, window.view.viewportTransform(), seen)
        bare.resize(port.size())

        def whole_frame() -> None:
            window.view.resetCachedContent()  # the ground too, as the bare painter does
            port.grab()

        whole_frame(), bare.grab()
        rounds = [(_median_ms(whole_frame), _median_ms(bare.grab)) for _ in range(runs)]
        shut(window)
    ours, floor = (tuple(times) for times in zip(*rounds, strict=True))
    return [Figure(f"A frame at 1:1, {port.width()} by {port.height()} pixels, "
                   "against one bare painter", ours, goal=1.3, floor_ms=floor)]


def _median_ms(work: Callable[[], object]) -> float:
    return statistics.median(timed_ms(work) for _ in range(FRAMES))


def drag(runs: int = RUNS) -> list[Figure]:
    """Drag the part with the most conductors to and fro; each step moves, previews and paints."""
    with tempfile.TemporaryDirectory() as folder:
        window = opened(Path(folder))
        part, (x, y) = busiest(window)
        window.view.centerOn(x, y)
        QApplication.processEvents()
        _mouse(window, QEvent.Type.MouseButtonPress, x, y)
        gesture = window.view.gesture
        assert isinstance(gesture, MoveParts)
        times = [statistics.median(_steps_ms(window, x, y)) for _ in range(runs)]
        wires = len(gesture.wires)
        window.view.cancel()
        shut(window)
    return [Figure(f"A step of dragging {part} with {wires} conductors, painted",
                   tuple(times), goal=4.0)]


def fitting(runs: int = RUNS) -> list[Figure]:
    """Hold a loose device over one conductor after another; each step shows the gap and paints.
    """
    with tempfile.TemporaryDirectory() as folder:
        window = opened(Path(folder))
        window.desk.do(place_edit(window.workspace.diagram, "fuse", (20.0, 20.0)))
        fuse = window.workspace.undo_label.split()[-1]  # "Place fuse F31"
        gesture = MoveParts(window.desk, Pointer(20.0, 20.0), fuse)
        middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
                   for path in list(window.scene.drawing.paths.values())[:STEPS]
                   for a, b in legs(path)[:1]]
        times = []
        for _ in range(runs):
            for x, y in middles:  # the supply's side of each is found once a drag
                gesture.move(Pointer(x, y))
            times.append(statistics.median(
                timed_ms(lambda x=x, y=y: _step(gesture, x, y)) for x, y in middles))
        gesture.cancel()
        shut(window)
    return [Figure("A step of a loose fuse over conductors, with the gap it would make, painted",
                   tuple(times), goal=4.0)]


def _step(gesture: MoveParts, x: float, y: float) -> None:
    gesture.move(Pointer(x, y))
    QApplication.processEvents()


def busiest(window: MainWindow) -> tuple[str, tuple[float, float]]:
    """The part with the most conductors drawn to it, and where a press takes hold of it. [mm]."""
    drawing = window.scene.drawing
    ends = [end.component for wire in window.workspace.diagram.conductors.values()
            for end in wire.ends() if wire.id in drawing.paths]
    for item in sorted(drawing.parts, key=lambda item: -ends.count(item)):
        body = drawing.parts[item].body
        for share in (0.5, 0.07, 0.11, 0.21, 0.37, 0.93):
            point = (body.x0 + share * body.w, body.y0 + body.h / 2)
            if window.scene.port_at(point) is None and window.scene.part_at(point) == item:
                return item, point
    raise LookupError("no part can be dragged")


def _steps_ms(window: MainWindow, x: float, y: float) -> Iterable[float]:
    def step(number: int) -> None:
        _mouse(window, QEvent.Type.MouseMove, x + 2.5 * (number % 7 + 1), y + 2.5 * (number % 5))
        QApplication.processEvents()

    return [timed_ms(lambda number=number: step(number)) for number in range(STEPS)]


def _mouse(window: MainWindow, kind: QEvent.Type, x: float, y: float) -> None:
    """Send a mouse event to the sheet."""
    view = window.view
    at = QPointF(view.mapFromScene(QPointF(x, y)))
    button = Qt.MouseButton.LeftButton
    pressed = Qt.MouseButton.NoButton if kind == QEvent.Type.MouseMove else button
    QApplication.sendEvent(view.viewport(), QMouseEvent(
        kind, at, QPointF(view.viewport().mapToGlobal(at.toPoint())), pressed, button,
        Qt.KeyboardModifier.NoModifier))
