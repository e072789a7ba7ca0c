"""A start of the program: prints the clock after the first paint, or after a click was answered.

Arguments: the state folder, and a diagram to open. With a diagram, a part of it is clicked as
soon as the sheet is painted; the answer is the paint that follows the part's choice.
"""

from __future__ import annotations

import os
import sys
import time
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QObject, QPointF, Qt, QTimer
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication

from app.quick_start import quick_start

if TYPE_CHECKING:
    from app.window.main_window import MainWindow


class Watch(QObject):
    """Follows the paints of a window's sheet."""

    def __init__(self, window: MainWindow, is_clicking: bool) -> None:
        super().__init__()
        self._window, self._is_clicking = window, is_clicking
        self._has_clicked = False
        window.view.viewport().installEventFilter(self)

    def eventFilter(self, _watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Paint:
            QTimer.singleShot(0, self.painted)
        return False

    def painted(self) -> None:
        if self._is_clicking and not self._has_clicked:
            self._has_clicked = True
            self._click()
        elif not self._is_clicking or self._window.scene.selection:
            print(time.perf_counter(), flush=True)
            sys.stdout.flush()
            os._exit(0)

    def _click(self) -> None:
        view = self._window.view
        item, part = next(iter(self._window.scene.drawing.parts.items()))
        middle = QPointF((part.body.x0 + part.body.x1) / 2, (part.body.y0 + part.body.y1) / 2)
        at = QPointF(view.mapFromScene(middle))
        whole = view.viewport().mapToGlobal(at)
        for kind, held in ((QEvent.Type.MouseButtonPress, Qt.MouseButton.LeftButton),
                           (QEvent.Type.MouseButtonRelease, Qt.MouseButton.NoButton)):
            QApplication.sendEvent(view.viewport(), QMouseEvent(
                kind, at, whole, Qt.MouseButton.LeftButton, held,
                Qt.KeyboardModifier.NoModifier))
        assert self._window.scene.selection == {item}


def main() -> None:
    with quick_start():
        from app.main_window import make_application, open_window

    folder, *rest = map(Path, sys.argv[1:])
    (folder / "window.ini").touch()
    application = make_application()
    window = open_window(rest[0] if rest else None, folder)
    watch = Watch(window, is_clicking=bool(rest))
    window.show()
    application.exec()
    del watch


if __name__ == "__main__":
    main()
