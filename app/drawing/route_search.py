"""The cheapest path between two points: A* on the sparse grid of what is in the way.

States are a crossing of grid lines and the direction in which it was reached, as one number each:
the search visits thousands of them.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence

from app.drawing.route_prices import (
    BEND_COST_MM,
    GRID_MM,
    INFINITY,
    Box,
    Point,
    Prices,
    Segment,
    snapped,
)

MOST_STEPS = 60_000
RIGHT, LEFT, DOWN, UP, ANY = range(5)
_HEADINGS = {(1, 0): RIGHT, (-1, 0): LEFT, (0, 1): DOWN, (0, -1): UP, (0, 0): ANY}
_BACK = (LEFT, RIGHT, UP, DOWN, ANY)
Out = tuple[Point, tuple[int, int]]  # a point outside a body, and the way out of it


def cheapest_path(
    start: Out, finish: Out, walls: Sequence[Box], others: Sequence[Segment], window: float
) -> list[Point] | None:
    """Return the cheapest path within a window round both ends, or None."""
    (a, _), (b, _) = start, finish
    frame = (min(a[0], b[0]) - window, min(a[1], b[1]) - window,
             max(a[0], b[0]) + window, max(a[1], b[1]) + window)
    near = [wall for wall in walls if _meets(wall, frame)]
    beside = [leg for leg in others if _meets(_leg_box(leg), frame)]
    xs = _grid_lines(a[0], b[0], near, beside, frame, 0)
    ys = _grid_lines(a[1], b[1], near, beside, frame, 1)
    prices = Prices(xs, ys)
    for wall in near:
        prices.block(wall)
    for leg in beside:
        prices.avoid(leg)
    return _Search(prices, b, _BACK[_HEADINGS[finish[1]]]).path(a, _HEADINGS[start[1]])


def _meets(a: Box, b: Box) -> bool:
    return a[0] <= b[2] and a[2] >= b[0] and a[1] <= b[3] and a[3] >= b[1]


def _leg_box(leg: Segment) -> Box:
    (x0, y0), (x1, y1) = leg
    return (min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1))


def _grid_lines(
    a: float, b: float, walls: Iterable[Box], others: Iterable[Segment], frame: Box, axis: int
) -> list[float]:
    lines = {a, b, snapped((a + b) / 2)}
    for wall in walls:
        lines.add(snapped(wall[axis] - GRID_MM / 2))
        lines.add(snapped(wall[axis + 2] + GRID_MM / 2))
    for leg in others:
        if abs(leg[0][axis] - leg[1][axis]) < 1e-6:
            lines.update((leg[0][axis] - 2 * GRID_MM, leg[0][axis] + 2 * GRID_MM))
    return sorted(line for line in lines if frame[axis] <= line <= frame[axis + 2])


class _Search:
    """One search; the last leg must enter the goal from outside, heading `into`."""

    def __init__(self, prices: Prices, goal: Point, into: int) -> None:
        self._prices, self._goal, self._into = prices, goal, into
        self._rows = len(prices.ys)
        self._target = prices.xs.index(goal[0]) * self._rows + prices.ys.index(goal[1])
        self._guess = self._guesses()

    def _guesses(self) -> list[float]:
        """Return what it costs at least from each crossing to the goal."""
        x, y = self._goal
        across = [abs(other - x) for other in self._prices.xs]
        along = [abs(other - y) for other in self._prices.ys]
        return [dx + dy + (BEND_COST_MM if dx and dy else 0.0) for dx in across for dy in along]

    def path(self, start: Point, heading: int) -> list[Point] | None:
        """Return the crossings from the start to the goal, or None."""
        xs, ys, target = self._prices.xs, self._prices.ys, self._target
        first = (xs.index(start[0]) * self._rows + ys.index(start[1])) * 5 + heading
        best = {first: 0.0}
        came: dict[int, int] = {}
        queue = [(0.0, 0.0, first)]
        for _ in range(MOST_STEPS):
            if not queue:
                return None
            _, cost, state = heapq.heappop(queue)
            if state // 5 == target:
                return self._back(came, state)
            if cost > best[state]:
                continue
            for price, reached in self._steps(cost, state):
                if price < best.get(reached, INFINITY):
                    best[reached] = price
                    came[reached] = state
                    heapq.heappush(queue, (price + self._guess[reached // 5], price, reached))
        return None

    def _steps(self, cost: float, state: int) -> list[tuple[float, int]]:
        """Return the states one step further, with what they cost by then."""
        node, heading = divmod(state, 5)
        i, j = divmod(node, self._rows)
        level, upright = self._prices.level[j], self._prices.upright[i]
        rows = self._rows
        reached = []
        if heading != LEFT and i < len(level):
            reached.append((level[i], node + rows, RIGHT))
        if heading != RIGHT and i:
            reached.append((level[i - 1], node - rows, LEFT))
        if heading != UP and j < rows - 1:
            reached.append((upright[j], node + 1, DOWN))
        if heading != DOWN and j:
            reached.append((upright[j - 1], node - 1, UP))
        found = []
        for price, after, way in reached:
            if price == INFINITY:
                continue
            if heading not in (way, ANY):
                price += BEND_COST_MM
            if after == self._target and self._into not in (way, ANY):
                if self._into == _BACK[way]:
                    continue
                price += BEND_COST_MM
            found.append((cost + price, after * 5 + way))
        return found

    def _back(self, came: dict[int, int], state: int) -> list[Point]:
        """Return the points that led to a state."""
        states = [state]
        while states[-1] in came:
            states.append(came[states[-1]])
        return [(self._prices.xs[node // self._rows], self._prices.ys[node % self._rows])
                for node in (one // 5 for one in reversed(states))]
