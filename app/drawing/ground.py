"""What ground on the sheet is taken: boxes and lines, found quickly by their squares."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from app.drawing.marks import Box, Point

SQUARE_MM = 20.0


class Ground:
    """Remembers taken boxes; answers how much of a wanted box is taken already."""

    def __init__(self) -> None:
        self._squares: dict[tuple[int, int], list[Box]] = {}

    def take(self, box: Box) -> None:
        """Mark a box as taken."""
        for square in _squares(box):
            self._squares.setdefault(square, []).append(box)

    def take_line(self, points: Sequence[Point], width_mm: float) -> None:
        """Mark the legs of a line as taken."""
        half = width_mm / 2
        for (ax, ay), (bx, by) in zip(points, points[1:], strict=False):
            self.take(Box(min(ax, bx) - half, min(ay, by) - half,
                          max(ax, bx) + half, max(ay, by) + half))

    def taken_mm2(self, box: Box) -> float:
        """Return how much of the box is taken, doubly taken ground counted doubly. [mm2]."""
        total = 0.0
        seen: set[int] = set()
        for square in _squares(box):
            for other in self._squares.get(square, ()):
                if id(other) in seen or not box.meets(other):
                    continue
                seen.add(id(other))
                total += (min(box.x1, other.x1) - max(box.x0, other.x0)) * (
                    min(box.y1, other.y1) - max(box.y0, other.y0))
        return total


def _squares(box: Box) -> Iterable[tuple[int, int]]:
    for i in range(int(box.x0 // SQUARE_MM), int(box.x1 // SQUARE_MM) + 1):
        for j in range(int(box.y0 // SQUARE_MM), int(box.y1 // SQUARE_MM) + 1):
            yield (i, j)
