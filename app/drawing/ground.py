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
        # What was in the way of one box is often in the way of the next, a little further on.
        self._last_met: Sides = (0.0, 0.0, 0.0, 0.0)

    def take(self, box: Box) -> None:
        """Mark a box as taken."""
        sides = box.as_tuple()
        for square in _squares(sides):
            self._squares.setdefault(square, []).append(sides)

    def take_line(self, points: Sequence[Point], width_mm: float) -> None:
        """Mark the legs of a line as taken."""
        half = width_mm / 2
        for (ax, ay), (bx, by) in zip(points, points[1:], strict=False):
            self.take(Box(min(ax, bx) - half, min(ay, by) - half,
                          max(ax, bx) + half, max(ay, by) + half))

    def taken_mm2(self, box: Box) -> float:
        """Return how much of the box is taken, doubly taken ground counted doubly. [mm2]."""
        return self.taken_of_sides_mm2(box.as_tuple())

    def taken_of_sides_mm2(self, sides: Sides) -> float:
        """Return the same of a box given by its sides: this is asked thousands of times. [mm2]."""
        x0, y0, x1, y1 = sides
        total = 0.0
        met: list[Sides] = []
        for square in _squares(sides):
            for other in self._squares.get(square, ()):
                a0, b0, a1, b1 = other
                if a0 < x1 and a1 > x0 and b0 < y1 and b1 > y0 and not any(
                        other is one for one in met):
                    met.append(other)
                    total += (min(x1, a1) - max(x0, a0)) * (min(y1, b1) - max(y0, b0))
        return total

    def is_free(self, sides: Sides) -> bool:
        """Say whether nothing of a box is taken."""
        x0, y0, x1, y1 = sides
        a0, b0, a1, b1 = self._last_met
        if a0 < x1 and a1 > x0 and b0 < y1 and b1 > y0:
            return False
        left, right = int(x0 // SQUARE_MM), int(x1 // SQUARE_MM)
        for top in range(int(y0 // SQUARE_MM), int(y1 // SQUARE_MM) + 1):
            for column in range(left, right + 1):
                for other in self._squares.get((column, top), ()):
                    a0, b0, a1, b1 = other
                    if a0 < x1 and a1 > x0 and b0 < y1 and b1 > y0:
                        self._last_met = other
                        return False
        return True


def _squares(sides: Sides) -> list[tuple[int, int]]:
    """Return the squares that a box lies in; most boxes are small and lie in one or two."""
    x0, y0, x1, y1 = sides
    left, right = int(x0 // SQUARE_MM), int(x1 // SQUARE_MM)
    top, bottom = int(y0 // SQUARE_MM), int(y1 // SQUARE_MM)
    return [(i, j) for i in range(left, right + 1) for j in range(top, bottom + 1)]
