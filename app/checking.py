"""The rule book in a process of its own, beside the window's: questions come in, reports go out.

A message is its length and its pickle: in (number, diagram), out (number, report). A question that
a newer one has overtaken is dropped. The process ends when its input does, so also when the
window's process is killed.
"""

from __future__ import annotations

import gc
import os
import struct
import sys
import threading
from typing import TYPE_CHECKING, Any, BinaryIO

if TYPE_CHECKING:
    from model.diagram import Diagram

LENGTH = struct.Struct("<I")


def framed(message: Any) -> bytes:
    """Return a message as it goes through the pipe."""
    import pickle  # a start has no use for it

    body = pickle.dumps(message, protocol=pickle.HIGHEST_PROTOCOL)
    return LENGTH.pack(len(body)) + body


def taken(buffer: bytearray) -> list[Any]:
    """Take the whole messages out of what has come so far, and leave the rest."""
    import pickle

    messages = []
    while len(buffer) >= LENGTH.size:
        (length,) = LENGTH.unpack_from(buffer)
        end = LENGTH.size + length
        if len(buffer) < end:
            break
        messages.append(pickle.loads(bytes(buffer[LENGTH.size:end])))
        del buffer[:end]
    return messages


class _Newest:
    """The newest question that has come; a thread reads so that older ones are seen overtaken."""

    def __init__(self, questions: BinaryIO) -> None:
        self._questions = questions
        self._has_come = threading.Condition()
        self._waiting: tuple[int, Diagram] | None = None
        self._is_over = False
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        buffer = bytearray()
        while chunk := self._questions.read1(1 << 16):  # type: ignore[attr-defined]
            buffer += chunk
            for question in taken(buffer):
                with self._has_come:
                    self._waiting = question
                    self._has_come.notify()
        with self._has_come:
            self._is_over = True
            self._has_come.notify()

    def next(self) -> tuple[int, Diagram] | None:
        """Wait for a question and return the newest; None when no more can come."""
        with self._has_come:
            self._has_come.wait_for(lambda: self._waiting is not None or self._is_over)
            question, self._waiting = self._waiting, None
        return question

    def is_overtaken(self) -> bool:
        """Say whether the question that is being answered matters no more."""
        return self._waiting is not None or self._is_over


def clear_up(is_first: bool) -> None:
    """Look for garbage once an answer is out, and not amid a check as Python would: 1 ms.

    After the first check all is loaded: modules, rules and tables stay for ever, so that no later
    look goes through them, which took 70 ms.
    """
    gc.collect()
    if is_first:
        gc.freeze()


def serve(questions: BinaryIO, answers: BinaryIO) -> None:
    """Answer questions until their stream ends."""
    from model.survey import Survey
    from rules.engine import check

    newest = _Newest(questions)
    survey: Survey | None = None
    is_first = True
    while (question := newest.next()) is not None:
        number, diagram = question
        survey = Survey(diagram, survey)
        report = check(survey, None, overtaken=newest.is_overtaken)
        if report is not None:
            answers.write(framed((number, report)))
            answers.flush()
        clear_up(is_first=is_first)
        is_first = False


def main() -> None:
    """Serve on standard input and output; what modules print goes to standard error."""
    answers = os.fdopen(os.dup(sys.stdout.fileno()), "wb")
    os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    gc.disable()  # `serve` clears up between checks
    serve(sys.stdin.buffer, answers)


if __name__ == "__main__":
    main()
