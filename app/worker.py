"""Survey and rules beside the window: one worker thread, messages only.

A message in is (serial, diagram); a message out is (serial, report). A question that a newer
diagram has overtaken is dropped. A process could take the thread's place in this one file.
"""

from __future__ import annotations

import sys
import threading
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QThread, QTimer, Signal

if TYPE_CHECKING:
    from model.diagram import Diagram

SWITCH_INTERVAL_S = 0.0005
# The first question lets the window paint its sheet and take a click; later ones are joined
# when they come in a row.
FIRST_PAUSE_MS = 120
PAUSE_MS = 10


class _Checker(QObject):
    answered = Signal(int, object)

    def __init__(self) -> None:
        super().__init__()
        self._lock = threading.Lock()
        self._wanted: tuple[int, Diagram] | None = None
        self.newest = 0

    def put(self, serial: int, diagram: Diagram) -> None:
        """Leave the newest question; an older one still waiting is dropped."""
        with self._lock:
            self._wanted = (serial, diagram)
            self.newest = serial

    def work(self) -> None:
        """Answer the question that waits, if any."""
        with self._lock:
            wanted, self._wanted = self._wanted, None
        if wanted is None:
            return
        from rules.engine import check

        serial, diagram = wanted
        report = check(diagram, None, overtaken=lambda: self.newest != serial)
        if report is not None and self.newest == serial:
            self.answered.emit(serial, report)


class Worker(QObject):
    """Checks diagrams in the background; `reported` brings (serial, report)."""

    reported = Signal(int, object)
    _asked = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        sys.setswitchinterval(SWITCH_INTERVAL_S)
        self._thread = QThread(self)
        self._thread.setObjectName("rules")
        self._checker = _Checker()
        self._checker.moveToThread(self._thread)
        self._asked.connect(self._checker.work)
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(FIRST_PAUSE_MS)
        self._soon.timeout.connect(self._pass_on)
        self._checker.answered.connect(self.reported)
        self._thread.start()

    def ask(self, serial: int, diagram: Diagram) -> None:
        """Ask for a report on a diagram; it comes by the signal `reported`."""
        self._checker.put(serial, diagram)
        self._soon.start()

    def _pass_on(self) -> None:
        self._soon.setInterval(PAUSE_MS)
        self._asked.emit()

    def stop(self) -> None:
        """End the thread and wait for it."""
        self._checker.newest = -1
        self._thread.quit()
        self._thread.wait()
