"""What ground on the sheet is taken: boxes and lines, found quickly by their squares."""

from __future__ import annotations

from collections.abc import Sequence

from app.drawing.marks import Box, Point

SQUARE_MM = 10.0
Sides = tuple[float, float, float, float]


class Ground:
    """Remembers taken boxes; answers how much of a wanted box is taken already."""

    def __init__(self) -> None:
        self._squares: dict[tuple[int, int], list[Sides]] = {}

    def take(self, box: Box) -> None:
        """Mark a box as taken."""
        sides = box.as_tuple()
        for square in _squares(box):
            self._squares.setdefault(square, []).append(sides)

    def take_line(self, points: Sequence[Point], width_mm: float) -> None:
        """Mark the legs of a line as taken."""
        half = width_mm / 2
        for (ax, ay), (bx, by) in zip(points, points[1:], strict=False):
            self.take(Box(min(ax, bx) - half, min(ay, by) - half,
                          max(ax, bx) + half, max(ay, by) + half))

    def taken_mm2(self, box: Box) -> float:
        """Return how much of the box is taken, doubly taken ground counted doubly. [mm2]."""
        x0, y0, x1, y1 = box.as_tuple()
        total = 0.0
        seen: set[int] = set()
        for square in _squares(box):
            for other in self._squares.get(square, ()):
                a0, b0, a1, b1 = other
                if a0 < x1 and a1 > x0 and b0 < y1 and b1 > y0 and id(other) not in seen:
                    seen.add(id(other))
                    total += (min(x1, a1) - max(x0, a0)) * (min(y1, b1) - max(y0, b0))
        return total


def _squares(box: Box) -> list[tuple[int, int]]:
    """Return the squares that a box lies in; most boxes are small and lie in one or two."""
    columns = range(int(box.x0 // SQUARE_MM), int(box.x1 // SQUARE_MM) + 1)
    rows = range(int(box.y0 // SQUARE_MM), int(box.y1 // SQUARE_MM) + 1)
    return [(i, j) for i in columns for j in rows]
