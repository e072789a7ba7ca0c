"""A hand at the window: real mouse and key events, aimed in sheet millimetres."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtWidgets import QApplication, QLineEdit, QWidget

from app.drawing.routing import legs
from app.panels.fields import FieldRow
from app.window.main_window import MainWindow
from rules.engine import Report

LEFT = Qt.MouseButton.LeftButton


class Hand:
    """Points, clicks, drags and types at one window."""

    def __init__(self, qtbot, window: MainWindow) -> None:
        self.qtbot, self.window, self.view = qtbot, window, window.view

    def pixel(self, x_mm: float, y_mm: float) -> QPoint:
        """The pixel of the sheet's point, which must be in sight."""
        at = self.view.mapFromScene(QPointF(x_mm, y_mm))
        assert self.view.viewport().rect().contains(at), (x_mm, y_mm)
        return at

    def point(self, x_mm: float, y_mm: float) -> None:
        self.qtbot.mouseMove(self.view.viewport(), self.pixel(x_mm, y_mm))
        QApplication.processEvents()

    def click(self, x_mm: float, y_mm: float, button: Qt.MouseButton = LEFT) -> None:
        self.point(x_mm, y_mm)
        self.qtbot.mouseClick(self.view.viewport(), button, pos=self.pixel(x_mm, y_mm))

    def double_click(self, x_mm: float, y_mm: float) -> None:
        """Click twice in quick succession: press, release, double press, release."""
        where, at = self.view.viewport(), self.pixel(x_mm, y_mm)
        self.qtbot.mouseClick(where, LEFT, pos=at)
        self.qtbot.mouseDClick(where, LEFT, pos=at)
        self.qtbot.mouseRelease(where, LEFT, pos=at)

    def press(self, x_mm: float, y_mm: float) -> None:
        self.point(x_mm, y_mm)
        self.qtbot.mousePress(self.view.viewport(), LEFT, pos=self.pixel(x_mm, y_mm))

    def release(self, x_mm: float, y_mm: float) -> None:
        self.point(x_mm, y_mm)
        self.qtbot.mouseRelease(self.view.viewport(), LEFT, pos=self.pixel(x_mm, y_mm))

    def drag(self, start: tuple[float, float], finish: tuple[float, float]) -> None:
        """Press, come over the middle, and let go."""
        self.press(*start)
        self.point((start[0] + finish[0]) / 2, (start[1] + finish[1]) / 2)
        self.release(*finish)

    def port(self, part: str, port: str) -> tuple[float, float]:
        """Where a terminal is on the sheet."""
        return self.window.scene.drawing.parts[part].port(port).at

    def middle(self, part: str) -> tuple[float, float]:
        """The middle of a part's body."""
        body = self.window.scene.drawing.parts[part].body
        return ((body.x0 + body.x1) / 2, (body.y0 + body.y1) / 2)

    def on_wire(self, wire: str) -> tuple[float, float]:
        """The middle of a conductor's longest leg."""
        path = self.window.scene.drawing.paths[wire]
        a, b = max(legs(path), key=lambda leg: abs(leg[0][0] - leg[1][0])
                   + abs(leg[0][1] - leg[1][1]))
        return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)

    def connect(self, first: tuple[str, str], second: tuple[str, str]) -> None:
        self.drag(self.port(*first), self.port(*second))

    def key(self, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier,
            to: QWidget | None = None) -> None:
        """Press a key where the focus is, or on a given widget."""
        self.qtbot.keyClick(to or QApplication.focusWidget() or self.window, key, held)

    def type_over(self, line: QLineEdit, text: str) -> None:
        """Click into a line, replace what it holds and press Enter."""
        self.qtbot.mouseClick(line, LEFT)
        line.selectAll()
        self.qtbot.keyClicks(line, text)
        self.qtbot.keyClick(line, Qt.Key.Key_Return)

    def field(self, name: str) -> FieldRow:
        """A field of the Particulars as they are now."""
        QApplication.processEvents()
        return self.window.particulars.rows[name]

    def take_by_search(self, words: str) -> None:
        """Find a part in the Locker by typing, and take it in hand with Enter."""
        self.type_over(self.window.locker.search, words)

    def take_by_tile(self, kind: str) -> None:
        """Open the family of a part and click its tile."""
        self.window.locker.search.clear()
        tile = self.window.locker.tiles[kind]
        if not tile.isVisible():
            head = next(head for head, _, tiles in self.window.locker._families if tile in tiles)
            self.qtbot.mouseClick(head, LEFT)
        assert tile.isVisible()
        self.qtbot.mouseClick(tile, LEFT)

    def report(self) -> Report:
        """The report on the diagram as it is now."""
        from rules.engine import check

        now = check(self.window.workspace.diagram)
        self.qtbot.waitUntil(lambda: self.window.report == now)
        assert now is not None
        return now
