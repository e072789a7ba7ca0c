"""From the start of a process to the first paint, and to the answer to a click.

Each run is a fresh process. The floor is an empty main window in the same interpreter.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.figures import DEMO, RUNS, Figure

ROOT = Path(__file__).parents[2]
EMPTY, REAL = "tests.bench.start_empty", "tests.bench.start_real"


def started_ms(module: str, *arguments: str) -> float:
    """Run a module that prints the clock when it is done; return the time since its start."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "offscreen"}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)  # a program in use is compiled already
    start = time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-m", module, *arguments], cwd=ROOT, env=environment, check=True,
        capture_output=True, text=True, timeout=60)
    return 1000 * (float(done.stdout.split()[-1]) - start)


def start(runs: int = RUNS) -> list[Figure]:
    """Time empty and real windows in turn, after one of each for the file cache."""
    with tempfile.TemporaryDirectory() as folder:
        calls = ((EMPTY,), (REAL, folder), (REAL, folder, str(DEMO)))
        for call in calls:
            started_ms(*call)
        rounds = [[started_ms(*call) for call in calls] for _ in range(runs)]
    empty, first, answered = (tuple(times) for times in zip(*rounds, strict=True))
    return [
        Figure("First paint of the window with menus and parts list, fresh process",
               first, goal=2.0, floor_ms=empty),
        Figure("Large demo drawn and a click answered, fresh process",
               answered, goal=3.0, floor_ms=empty),
    ]
