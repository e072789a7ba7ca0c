"""What a bench found: five runs of ours, five of the floor, medians, and the goal."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

RUNS = 5
DEMO = Path(__file__).parents[2] / "assets" / "demo" / "steel_cutter.loom"


@dataclass(frozen=True, slots=True)
class Figure:
    """Runs in milliseconds. `goal` is a time when there is no floor, else a ratio. [ms or 1]."""

    title: str
    ours_ms: tuple[float, ...]
    goal: float
    floor_ms: tuple[float, ...] = ()

    @property
    def median_ms(self) -> float:
        """The middle run of ours. [ms]."""
        return statistics.median(self.ours_ms)

    @property
    def ratio(self) -> float | None:
        """How many times the floor, by medians; None without a floor. [unitless]."""
        return self.median_ms / statistics.median(self.floor_ms) if self.floor_ms else None

    def text(self) -> str:
        """The lines to print."""
        lines = [self.title, f"  ours   {_runs(self.ours_ms)}"]
        if self.ratio is None:
            found, goal = f"{self.median_ms:.1f} ms", f"{self.goal:g} ms"
            is_met = self.median_ms < self.goal
        else:
            lines.append(f"  floor  {_runs(self.floor_ms)}")
            found, goal = f"{self.ratio:.2f} times the floor", f"{self.goal:g} times"
            is_met = self.ratio < self.goal
        lines.append(f"  {found}, goal under {goal}: {'met' if is_met else 'MISSED'}")
        return "\n".join(lines)


def _runs(times_ms: tuple[float, ...]) -> str:
    listed = " ".join(f"{value:8.2f}" for value in times_ms)
    return f"{listed}   median {statistics.median(times_ms):8.2f} ms"


def timed_ms(work: Callable[[], object]) -> float:
    """Do it once and return how long it took. [ms]."""
    start = time.perf_counter()
    work()
    return 1000 * (time.perf_counter() - start)
