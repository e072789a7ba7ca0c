"""The process that checks beside the window: answers, overtaken questions, deaths."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from app.checking import framed, taken
from app.worker import RulesProcess, Worker
from rules.engine import check
from tests.rules.bases import tidy, tidy_48


@pytest.fixture
def rules(qtbot):
    process = RulesProcess()
    yield process
    process.end()


def test_messages_are_whole_however_they_come():
    sent = framed((1, "one")) + framed((2, tidy()))
    buffer, came = bytearray(), []
    for place in range(0, len(sent), 7):
        buffer += sent[place:place + 7]
        came += taken(buffer)
    assert came == [(1, "one"), (2, tidy())] and not buffer


def test_the_report_is_the_one_that_the_book_gives_here(qtbot, rules):
    with qtbot.waitSignal(rules.answered, timeout=20_000) as answer:
        number = rules.ask(tidy())
    assert answer.args == [number, check(tidy())]


def test_a_worker_answers_the_newest_of_many_questions_with_its_serial(qtbot):
    worker, came = Worker(), []
    worker.reported.connect(lambda serial, report: came.append((serial, report)))
    for serial in range(5):
        worker.ask(serial, tidy_48() if serial == 4 else tidy())
    qtbot.waitUntil(lambda: bool(came), timeout=20_000)
    assert came == [(4, check(tidy_48()))]
    worker.stop()


def test_a_process_that_is_killed_begins_again_with_the_open_question(qtbot, rules):
    with qtbot.waitSignal(rules.answered, timeout=20_000):
        rules.ask(tidy())
    with qtbot.waitSignal(rules.answered, timeout=20_000) as answer:
        number = rules.ask(tidy_48())
        rules._process.kill()
    assert answer.args[0] == number


def test_a_process_that_cannot_run_is_told_of(qtbot, rules):
    rules._process.setArguments(["-c", "raise SystemExit(3)"])
    with qtbot.waitSignal(rules.failed, timeout=20_000) as failure:
        rules.ask(tidy())
    assert "ended with code 3" in failure.args[0]


def test_the_process_ends_with_its_input_and_prints_nothing_but_answers(tmp_path):
    root = Path(__file__).parents[2]
    ran = subprocess.run(
        [sys.executable, "-P", "-m", "app.checking"], input=b"", capture_output=True, cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(root)}, timeout=60, check=False)
    assert (ran.returncode, ran.stdout, ran.stderr) == (0, b"", b"")
