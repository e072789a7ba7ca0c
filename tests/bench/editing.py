"""Editing under load: a drag while the rules run, a drag among 2000 parts, memory after edits."""

from __future__ import annotations

import random
import statistics
import tempfile
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QEvent
from PySide6.QtGui import QTransform
from PySide6.QtWidgets import QApplication

from app.drafting.parts import field_edit, move_edit, place_edit
from app.drafting.removal import remove_edit
from app.drafting.wires import wire_field_edit
from app.main_window import open_window
from app.window.main_window import PIXELS_PER_MM, MainWindow
from model.diagram import Diagram
from model.edits import Edit
from model.errors import ModelError
from model.storage import save
from tests.bench.figures import RUNS, Figure, timed_ms
from tests.bench.fleet import Questions, fleet
from tests.bench.sheet import _mouse, busiest, opened, shut

DRAG_STEPS = 100
LARGE_COPIES = 23  # of the demo's 88 parts: 2024
RANDOM_EDITS = 10_000
SETTLED_EDITS = 2_000  # by then every step of the undo stack is taken


def drag_while_checking(runs: int = RUNS) -> list[Figure]:
    """Drag the busiest part of the demo while the worker is asked again and again."""
    with tempfile.TemporaryDirectory() as folder:
        window = opened(Path(folder))
        questions = Questions(window)
        part, wires, rounds = _dragged(window, runs, questions.keep_busy)
        questions.wait()
        shut(window)
    of = f"of dragging {part} with {wires} conductors while the rules run"
    return [Figure(f"Median step {of}", tuple(map(statistics.median, rounds)), goal=4.0),
            Figure(f"p95 step {of}", tuple(map(_p95, rounds)), goal=12.0)]


def drag_among_many(runs: int = RUNS) -> list[Figure]:
    """Drag the busiest part of a diagram of some 2000 parts."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "many.loom"
        diagram = fleet(LARGE_COPIES)
        save(diagram, path)
        (Path(folder) / "window.ini").touch()
        window = open_window(path, Path(folder))
        window.resize(1600, 1000)
        window.show()
        window.worker.stop()
        window.view.setTransform(QTransform.fromScale(PIXELS_PER_MM, PIXELS_PER_MM))
        part, wires, rounds = _dragged(window, runs, lambda: None)
        window.worker.stop = lambda: None  # type: ignore[method-assign]
        shut(window)
    return [Figure(f"Median step of dragging {part} with {wires} conductors among "
                   f"{len(diagram.components)} parts",
                   tuple(map(statistics.median, rounds)), goal=16.0)]


def _p95(times: list[float]) -> float:
    return statistics.quantiles(times, n=20)[-1]


def _dragged(
    window: MainWindow, runs: int, beside: Callable[[], object]
) -> tuple[str, int, list[list[float]]]:
    """Return the part, its number of conductors, and the times of each round's steps. [ms]."""
    part, (x, y) = busiest(window)
    window.view.centerOn(x, y)
    QApplication.processEvents()
    _mouse(window, QEvent.Type.MouseButtonPress, x, y)
    wires = len(window.view.gesture.wires)  # type: ignore[union-attr]
    rounds = [[_step_ms(window, x, y, number, beside) for number in range(DRAG_STEPS)]
              for _ in range(runs)]
    window.view.cancel()
    return part, wires, rounds


def _step_ms(
    window: MainWindow, x: float, y: float, number: int, beside: Callable[[], object]
) -> float:
    def step() -> None:
        _mouse(window, QEvent.Type.MouseMove, x + 2.5 * (number % 7 + 1), y + 2.5 * (number % 5))
        QApplication.processEvents()

    beside()
    return timed_ms(step)


def memory(runs: int = 1, edits: int = RANDOM_EDITS) -> list[Figure]:
    """Memory of a window after random edits, against it when the undo stack was full. [MB]."""
    rng = random.Random(7)
    before: list[float] = []
    after: list[float] = []
    for _ in range(runs):
        with tempfile.TemporaryDirectory() as folder:
            window = opened(Path(folder))
            settled = min(SETTLED_EDITS, edits // 5)
            for number in range(edits):
                _do(window, _random_edit(window.workspace.diagram, rng))
                if number == settled:
                    before.append(resident_mb())
            after.append(resident_mb())
            shut(window)
    return [Figure(f"Memory after {edits} random edits, in MB, against it after {settled}",
                   tuple(after), goal=1.2, floor_ms=tuple(before))]


def _do(window: MainWindow, edit: Edit) -> None:
    try:
        window.workspace.do(edit)
    except ModelError:
        return
    QApplication.processEvents()


def _random_edit(diagram: Diagram, rng: random.Random) -> Edit:
    """Return an edit as a hand makes them: move, set a field, place, remove."""
    part = rng.choice(sorted(diagram.components))
    wire = rng.choice(sorted(diagram.conductors))
    makers: tuple[Callable[[], Edit], ...] = (
        lambda: move_edit(diagram, [part], 2.5 * rng.randint(-2, 2), 2.5 * rng.randint(-2, 2)),
        lambda: wire_field_edit(diagram, wire, "length_m", rng.randint(1, 90) / 10),
        lambda: field_edit(diagram, part, "name", f"Name {rng.randint(0, 999)}"),
        lambda: place_edit(diagram, "fuse", (rng.randint(20, 150) * 2.5, 100.0)),
        lambda: remove_edit(diagram, _placed(diagram)[:2]),
    )
    return makers[rng.randrange(len(makers))]()


def _placed(diagram: Diagram) -> list[str]:
    """Return the fuses that nothing is connected to, such as were placed here."""
    joined = {end.component for wire in diagram.conductors.values() for end in wire.ends()}
    return [c.id for c in diagram.components.values() if c.kind == "fuse" and c.id not in joined]


def resident_mb() -> float:
    """Return the memory this process holds now. [MB]."""
    pages = int(Path("/proc/self/statm").read_text().split()[1])
    return pages * 4096 / 1e6
