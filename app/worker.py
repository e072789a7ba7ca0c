"""Survey and rules beside the window: a process of their own, messages only.

A question is a diagram, an answer its report. A question that a newer diagram has overtaken is
dropped. The process serves every window of the program and is begun again when it ends by itself.
"""

from __future__ import annotations

import atexit
import os
import sys
import threading
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6 import QtCore  # QtCore.QProcess by need: a start has no use for it
from PySide6.QtCore import QObject, QTimer, Signal

from app.words import _

if TYPE_CHECKING:
    from model.diagram import Diagram

# The first question lets the window paint its sheet; later ones are joined when they come in a row.
FIRST_PAUSE_MS = 200
PAUSE_MS = 10
MOST_DEATHS = 3  # in a row without an answer: then something is wrong that no new start mends
END_MS = 300


class RulesProcess(QObject):
    """The process that checks. `answered` brings (number of the question, report)."""

    answered = Signal(int, object)
    failed = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._process = QtCore.QProcess(self)
        self._process.setProgram(sys.executable)
        self._process.setArguments(["-P", "-m", "app.checking"])
        self._process.setProcessEnvironment(_environment())
        self._process.setProcessChannelMode(
            QtCore.QProcess.ProcessChannelMode.ForwardedErrorChannel)
        self._process.readyReadStandardOutput.connect(self._read)
        self._process.finished.connect(self._ended)
        self._buffer = bytearray()
        self._number = 0
        self._open: tuple[int, Diagram] | None = None
        self._deaths = 0
        atexit.register(self.end)

    def ask(self, diagram: Diagram) -> int:
        """Ask for a report and return the question's number; an older one is overtaken."""
        self._number += 1
        self._open = (self._number, diagram)
        if self._process.state() == QtCore.QProcess.ProcessState.NotRunning:
            self._process.start()
        self._send(self._open)
        return self._number

    def end(self) -> None:
        """End the process: its input ends, so it does."""
        self._open = None
        self._process.closeWriteChannel()
        if not self._process.waitForFinished(END_MS):
            self._process.kill()
            self._process.waitForFinished(END_MS)

    def _send(self, question: tuple[int, Diagram]) -> None:
        from app.checking import framed  # a start has no use for it

        self._process.write(framed(question))

    def _read(self) -> None:
        from app.checking import taken

        self._buffer += self._process.readAllStandardOutput().data()
        for number, report in taken(self._buffer):
            self._deaths = 0
            if self._open is not None and number == self._open[0]:
                self._open = None
                self.answered.emit(number, report)

    def _ended(self, code: int, _status: Any) -> None:
        """Begin again with the open question, unless it was that which ends the process."""
        self._buffer.clear()
        if self._open is None:
            return
        self._deaths += 1
        if self._deaths >= MOST_DEATHS:
            self._open = None
            self._deaths = 0
            self.failed.emit(_(
                "The checks could not run: their process ended with code {code}. They are tried "
                "again after your next change.").format(code=code))
            return
        self._process.start()
        self._send(self._open)


class Worker(QObject):
    """Checks a window's diagrams in the background; `reported` brings (serial, report)."""

    reported = Signal(int, object)
    failed = Signal(str)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._rules: RulesProcess | None = None  # until there is a question
        self._wanted: tuple[int, Diagram] | None = None
        self._asked = (0, 0)  # the number of the newest question, and its serial
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.setInterval(FIRST_PAUSE_MS)
        self._soon.timeout.connect(self._pass_on)

    def ask(self, serial: int, diagram: Diagram) -> None:
        """Ask for a report on a diagram; it comes by the signal `reported`."""
        self._wanted = (serial, diagram)
        self._soon.start()

    def stop(self) -> None:
        """Ask and answer nothing more."""
        self._soon.stop()
        if self._rules is not None:
            self._rules.answered.disconnect(self._answered)
            self._rules.failed.disconnect(self.failed)

    def _pass_on(self) -> None:
        if self._wanted is None:
            return
        self._soon.setInterval(PAUSE_MS)
        if self._rules is None:
            self._rules = _shared()
            self._rules.answered.connect(self._answered)
            self._rules.failed.connect(self.failed)
        serial, diagram = self._wanted
        self._wanted = None
        self._asked = (self._rules.ask(diagram), serial)

    def _answered(self, number: int, report: object) -> None:
        asked, serial = self._asked
        if number == asked:
            self.reported.emit(serial, report)
            _load_rules_once()


def _shared() -> RulesProcess:
    """Return the program's one process of the rules."""
    program = QtCore.QCoreApplication.instance()
    found = None if program is None else program.findChild(RulesProcess)
    return found or RulesProcess(program)


def _environment() -> QtCore.QProcessEnvironment:
    """Return the environment in which the process finds this program's packages."""
    environment = QtCore.QProcessEnvironment.systemEnvironment()
    paths = [str(Path(__file__).parents[1]), environment.value("PYTHONPATH")]
    environment.insert("PYTHONPATH", os.pathsep.join(path for path in paths if path))
    return environment


def _load_rules_once() -> None:
    """Load the rule book here too, beside the window, before a notice's fixes ask for it."""
    if "rules.engine" not in sys.modules:
        threading.Thread(target=__import__, args=("rules.engine",), daemon=True).start()
