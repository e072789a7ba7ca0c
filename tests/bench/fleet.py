"""A frame while the whole rule book runs beside the window, against one while nothing runs.

The diagram is six copies of the large demo side by side, more than 500 parts.
"""

from __future__ import annotations

import statistics
import tempfile
from pathlib import Path
from typing import Any

from PySide6.QtGui import QTransform
from PySide6.QtWidgets import QApplication

from app.main_window import open_window
from app.window.main_window import PIXELS_PER_MM, MainWindow
from model.diagram import Component, Conductor, Diagram
from model.storage import load, save
from tests.bench.figures import DEMO, RUNS, Figure, timed_ms
from tests.bench.sheet import shut

COPIES, APART_MM = 6, 450.0
FRAMES = 60


def fleet(copies: int = COPIES) -> Diagram:
    """The large demo several times, each copy with ids of its own."""
    demo = load(DEMO)
    components: dict[str, Component] = {}
    conductors: dict[str, Conductor] = {}
    for number in range(copies):
        for part in demo.components.values():
            item = _renamed(part.id, number)
            components[item] = _copied_part(part, number, set(demo.components))
        for wire in demo.conductors.values():
            item = _renamed(wire.id, number)
            conductors[item] = wire.replaced(
                id=item, path=None, start=_end(wire.start, number),
                finish=_end(wire.finish, number))
    return demo.replaced(components=components, conductors=conductors, modes={}, acceptances={},
                         places={}, systems={
                             item: system.replaced(negative_datum=None)
                             for item, system in demo.systems.items()})


def _renamed(item: str, number: int) -> str:
    owner, point, way = item.partition(".")
    return f"{owner}_{number}{point}{way}"


def _end(end: Any, number: int) -> Any:
    return end.replaced(component=_renamed(end.component, number))


def _copied_part(part: Component, number: int, ids: set[str]) -> Component:
    def own(value: Any) -> Any:
        if isinstance(value, str) and value.partition(".")[0] in ids:
            return _renamed(value, number)
        return tuple(map(own, value)) if isinstance(value, tuple) else value

    at = None if part.at is None else (part.at[0] + number * APART_MM, part.at[1])
    return part.replaced(
        id=_renamed(part.id, number), at=at, place=None,
        row_of=own(part.row_of), mounted_on=own(part.mounted_on), enclosure=own(part.enclosure),
        parameters={name: own(value) for name, value in part.parameters.items()})


def fleet_frame(runs: int = RUNS) -> list[Figure]:
    """Time frames with the worker asked again and again, and with nothing to do."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "fleet.loom"
        diagram = fleet()
        save(diagram, path)
        (Path(folder) / "window.ini").touch()
        window = open_window(path, Path(folder))
        window.resize(1600, 1000)
        window.show()
        while window.report is None:
            QApplication.processEvents()
        window.view.setTransform(QTransform.fromScale(PIXELS_PER_MM, PIXELS_PER_MM))
        window.view.centerOn(200, 140)
        rounds = [(_p95_ms(window, Questions(window)), _p95_ms(window, None))
                  for _ in range(runs)]
        shut(window)
    ours, floor = (tuple(times) for times in zip(*rounds, strict=True))
    return [Figure(f"p95 frame while the rule book runs, {len(diagram.components)} parts",
                   ours, goal=1.5, floor_ms=floor)]


class Questions:
    """Keeps the worker busy: asks again as soon as it has answered."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self._open = False
        window.worker.reported.connect(self._answered)

    def _answered(self, _serial: int, _report: object) -> None:
        self._open = False

    def keep_busy(self) -> None:
        """Ask, unless a question is open."""
        if not self._open:
            self._open = True
            self._window.worker.ask(self._window.workspace.serial,
                                    self._window.workspace.diagram)

    def wait(self) -> None:
        """Wait for the last answer."""
        while self._open:
            QApplication.processEvents()


def _p95_ms(window: MainWindow, questions: Questions | None) -> float:
    times = []
    for _ in range(FRAMES):
        if questions is not None:
            questions.keep_busy()
        QApplication.processEvents()
        times.append(timed_ms(window.view.viewport().repaint))
    if questions is not None:
        questions.wait()
    return statistics.quantiles(times, n=20)[-1]
