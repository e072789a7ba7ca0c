"""What each step of a route costs on the sparse grid: length, crossings, running alongside."""

from __future__ import annotations

import bisect
import itertools

Point = tuple[float, float]
Box = tuple[float, float, float, float]
Segment = tuple[Point, Point]
Interval = tuple[float, float]

GRID_MM = 2.5
CROSSING_COST_MM = 10.0
BEND_COST_MM = 12.0
SHARING_COST, LYING_ON_COST = 4.0, 12.0  # for each mm beside another line, or on it
INFINITY = float("inf")
NEAR_MM = 2 * GRID_MM - 0.1


def snapped(value: float) -> float:
    """Return the nearest millimetre on the grid."""
    return round(value / GRID_MM) * GRID_MM


def sharing_cost(apart_mm: float) -> float:
    """Return what a millimetre costs so far beside another line, or on it."""
    if abs(apart_mm) > NEAR_MM:
        return 0.0
    return LYING_ON_COST if abs(apart_mm) < GRID_MM / 2 else SHARING_COST


class Prices:
    """What each step between neighbouring grid lines costs: level[j][i] goes from xs[i] to the
    next along ys[j], upright[i][j] from ys[j] to the next along xs[i].
    """

    def __init__(self, xs: list[float], ys: list[float]) -> None:
        self.xs, self.ys = xs, ys
        level = [b - a for a, b in itertools.pairwise(xs)]
        upright = [b - a for a, b in itertools.pairwise(ys)]
        self.level = [level[:] for _ in ys]
        self.upright = [upright[:] for _ in xs]

    def block(self, wall: Box) -> None:
        """Forbid every step that enters the box."""
        _add_inside(self.level, self.xs, self.ys, (wall[0], wall[2]), (wall[1], wall[3]), INFINITY)
        _add_inside(self.upright, self.ys, self.xs, (wall[1], wall[3]), (wall[0], wall[2]),
                    INFINITY)

    def avoid(self, leg: Segment) -> None:
        """Make crossing a leg, or running along it, cost something."""
        (x0, y0), (x1, y1) = leg
        if abs(x1 - x0) >= abs(y1 - y0):
            span = (min(x0, x1), max(x0, x1))
            _add_along(self.level, self.xs, self.ys, span, y0)
            _add_inside(self.upright, self.ys, self.xs, (y0, y0), span, CROSSING_COST_MM)
        else:
            span = (min(y0, y1), max(y0, y1))
            _add_along(self.upright, self.ys, self.xs, span, x0)
            _add_inside(self.level, self.xs, self.ys, (x0, x0), span, CROSSING_COST_MM)


def _add_inside(
    prices: list[list[float]], along: list[float], across: list[float], span: Interval,
    band: Interval, price: float,
) -> None:
    """Add the price to steps that meet `span`, on lines strictly inside `band`."""
    first = max(0, bisect.bisect_right(along, span[0]) - 1)
    last = bisect.bisect_left(along, span[1])
    for line in range(bisect.bisect_right(across, band[0]), bisect.bisect_left(across, band[1])):
        row = prices[line]
        for k in range(first, min(last, len(row))):
            row[k] += price


def _add_along(
    prices: list[list[float]], along: list[float], across: list[float], span: Interval,
    middle: float,
) -> None:
    """Add the cost of sharing to steps beside a leg or on it, by the length they share."""
    first = max(0, bisect.bisect_right(along, span[0]) - 1)
    last = bisect.bisect_left(along, span[1])
    for line in range(bisect.bisect_right(across, middle - NEAR_MM),
                      bisect.bisect_left(across, middle + NEAR_MM)):
        row = prices[line]
        cost = sharing_cost(across[line] - middle)
        for k in range(first, min(last, len(row))):
            shared = min(along[k + 1], span[1]) - max(along[k], span[0])
            row[k] += cost * max(0.0, shared)
