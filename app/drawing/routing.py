"""Where conductors run on the sheet: orthogonal, on the grid, round parts, with few bends.

A Z-route of at most three legs is taken when it is clear; else A* on the sparse grid made of the
edges of what is in the way, with a cost for each bend and crossing. Pure geometry in millimetres,
y down; knows no diagram.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence

from msgspec import Struct

from app.drawing.route_prices import (
    BEND_COST_MM,
    CROSSING_COST_MM,
    NEAR_MM,
    Box,
    Point,
    Segment,
    sharing_cost,
    snapped,
)
from app.drawing.route_search import cheapest_path

STUB_MM = 2.5
CLEARANCE_MM = 2.5
WINDOW_MM = 60.0


class RouteEnd(Struct, frozen=True):
    """Where a route begins or ends, and the way out of the body: (0, 0) when any side will do."""

    at: Point
    direction: tuple[int, int] = (0, 0)

    def outside(self) -> Point:
        """Return the point one stub out of the body."""
        x, y = self.at
        dx, dy = self.direction
        return (x + dx * STUB_MM, y + dy * STUB_MM)


def route(
    start: RouteEnd,
    finish: RouteEnd,
    bodies: Sequence[Box] = (),
    others: Sequence[Segment] = (),
) -> tuple[Point, ...]:
    """Return the corner points of a route, both ends included.

    `bodies` are boxes not to be entered, `others` the legs of conductors already there: crossing
    one costs something, running along one costs more. A bar whose stud is an end of the route is
    no wall, but running along it costs as much. When nothing is free the direct Z is returned: a
    conductor is always drawn.
    """
    walls, others = _obstacles((start, finish), bodies, others)
    a, b = start.outside(), finish.outside()
    best = min(
        _z_routes(start, finish, a, b),
        key=lambda points: _cost(points, walls, others) + _bends(start, points, finish),
        default=None,
    )
    if best is not None and _cost(best, walls, others) < _length(best) + 1:
        return joined(start, best, finish)
    for window in (WINDOW_MM, 10 * WINDOW_MM):
        found = cheapest_path((a, start.direction), (b, finish.direction), walls, others, window)
        if found is not None:
            return joined(start, found, finish)
    return joined(start, best or (a, (b[0], a[1]), b), finish)


def joined(start: RouteEnd, points: Sequence[Point], finish: RouteEnd) -> tuple[Point, ...]:
    """Return the route from end to end; of two that lie on each other both are kept."""
    path = tidied((start.at, *points, finish.at))
    return path if len(path) > 1 else (start.at, finish.at)


def price(
    points: Sequence[Point], ends: tuple[RouteEnd, RouteEnd], bodies: Sequence[Box],
    others: Sequence[Segment],
) -> float:
    """Return what a whole path costs in mm; infinite when it enters a body."""
    walls, others = _obstacles(ends, bodies, others)
    inner = (ends[0].outside(), *points[1:-1], ends[1].outside())
    return _cost(inner, walls, others) + BEND_COST_MM * (len(points) - 2)


def _obstacles(
    ends: tuple[RouteEnd, RouteEnd], bodies: Sequence[Box], others: Sequence[Segment]
) -> tuple[list[Box], list[Segment]]:
    """Return walls, and lines to keep away from: a bar that holds an end is such a line."""
    own = [body for body in bodies if _holds_free_end(body, ends)]
    walls = [_grown(body, CLEARANCE_MM - 0.01) for body in bodies if body not in own]
    return walls, [*others, *(_axis(body) for body in own)]


def _holds_free_end(body: Box, ends: Iterable[RouteEnd]) -> bool:
    """Say whether one of the ends lies in the body and may leave it to any side."""
    return any(
        end.direction == (0, 0)
        and body[0] <= end.at[0] <= body[2] and body[1] <= end.at[1] <= body[3]
        for end in ends
    )


def _axis(body: Box) -> Segment:
    """Return the line along the middle of a body."""
    x0, y0, x1, y1 = body
    if x1 - x0 >= y1 - y0:
        return ((x0, (y0 + y1) / 2), (x1, (y0 + y1) / 2))
    return (((x0 + x1) / 2, y0), ((x0 + x1) / 2, y1))


def tidied(points: Sequence[Point]) -> tuple[Point, ...]:
    """Return the points without doubles and without corners on a straight leg."""
    kept: list[Point] = []
    for point in points:
        if kept and _same(kept[-1], point):
            continue
        while len(kept) >= 2 and _straight(kept[-2], kept[-1], point):
            kept.pop()
        kept.append(point)
    return tuple(kept)


def legs(points: Sequence[Point]) -> list[Segment]:
    """Return the straight legs between the points."""
    return list(itertools.pairwise(points))


def with_ends_moved(
    points: Sequence[Point], start: RouteEnd, finish: RouteEnd
) -> tuple[Point, ...] | None:
    """Return hand-placed corners joined to ends that moved, or None when too few are left.

    The first and last corners slide along their legs, so every bend placed by hand stays.
    """
    if len(points) < 4:
        return None
    inner = [tuple(point) for point in points[1:-1]]
    inner[0] = _slid(points[0], points[1], start.at)
    inner[-1] = _slid(points[-1], points[-2], finish.at)
    path = tidied((start.at, *inner, finish.at))  # type: ignore[arg-type]
    return path if len(path) > 1 else None


def crossing(one: Segment, two: Segment) -> Point | None:
    """Return where two legs cross inside both, or None."""
    (ax, ay), (bx, by) = one
    (cx, cy), (dx, dy) = two
    if abs(ay - by) >= 1e-9:  # then the other must be the level one
        ax, ay, bx, by, cx, cy, dx, dy = cx, cy, dx, dy, ax, ay, bx, by
        if abs(ay - by) >= 1e-9:
            return None
    elif abs(cy - dy) < 1e-9:
        return None
    if _strictly_between(ax, cx, bx) and _strictly_between(cy, ay, dy):
        return (cx, ay)
    return None


def _same(a: Point, b: Point) -> bool:
    return abs(a[0] - b[0]) < 1e-6 and abs(a[1] - b[1]) < 1e-6


def _straight(a: Point, b: Point, c: Point) -> bool:
    return (a[0] == b[0] == c[0]) or (a[1] == b[1] == c[1])


def _slid(old_end: Point, corner: Point, new_end: Point) -> Point:
    """Keep the corner's leg upright or level while its end moves."""
    if abs(old_end[0] - corner[0]) < 1e-6:
        return (new_end[0], corner[1])
    return (corner[0], new_end[1])


def _strictly_between(a: float, x: float, b: float) -> bool:
    return a + 1e-6 < x < b - 1e-6 or b + 1e-6 < x < a - 1e-6


def _grown(box: Box, by: float) -> Box:
    return (box[0] - by, box[1] - by, box[2] + by, box[3] + by)


def _length(points: Sequence[Point]) -> float:
    return sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in legs(points))


def _z_routes(start: RouteEnd, finish: RouteEnd, a: Point, b: Point) -> Iterable[tuple[Point, ...]]:
    """Yield the routes of up to three legs between two points that leave in the right direction."""
    middle_x, middle_y = snapped((a[0] + b[0]) / 2), snapped((a[1] + b[1]) / 2)
    candidates = [
        (a, (a[0], middle_y), (b[0], middle_y), b),
        (a, (middle_x, a[1]), (middle_x, b[1]), b),
        (a, (b[0], a[1]), b),
        (a, (a[0], b[1]), b),
    ]
    for points in candidates:
        path = tidied(points)
        if _leaves(path, start.direction) and _leaves(path[::-1], finish.direction):
            yield path


def _leaves(path: Sequence[Point], direction: tuple[int, int]) -> bool:
    """Say whether the path does not begin by turning back into the body."""
    if direction == (0, 0) or len(path) < 2:
        return True
    step = (path[1][0] - path[0][0], path[1][1] - path[0][1])
    return step[0] * direction[0] + step[1] * direction[1] >= 0


def _cost(points: Sequence[Point], walls: Sequence[Box], others: Sequence[Segment]) -> float:
    """Return the cost of a path in mm, or infinity when it enters a body."""
    total = _length(points)
    for leg in legs(points):
        total += _leg_cost(leg, walls, others)
    return total


def _bends(start: RouteEnd, points: Sequence[Point], finish: RouteEnd) -> float:
    """Return the cost of the corners of a whole route, in mm."""
    whole = tidied((start.at, *points, finish.at))
    return BEND_COST_MM * (len(whole) - 2)


def _leg_cost(leg: Segment, walls: Sequence[Box], others: Sequence[Segment]) -> float:
    (x0, y0), (x1, y1) = leg
    low_x, high_x = (x0, x1) if x0 < x1 else (x1, x0)
    low_y, high_y = (y0, y1) if y0 < y1 else (y1, y0)
    for wall in walls:
        if high_x > wall[0] and low_x < wall[2] and high_y > wall[1] and low_y < wall[3]:
            return float("inf")
    total = 0.0
    flat = high_x - low_x >= high_y - low_y
    left, right, top, foot = low_x - NEAR_MM, high_x + NEAR_MM, low_y - NEAR_MM, high_y + NEAR_MM
    for other in others:
        (u0, v0), (u1, v1) = other
        if ((u0 < left and u1 < left) or (u0 > right and u1 > right)
                or (v0 < top and v1 < top) or (v0 > foot and v1 > foot)):
            continue  # most are far away
        if flat == (abs(u1 - u0) >= abs(v1 - v0)):
            total += _shared(leg, other, flat)
        elif crossing(leg, other) is not None:
            total += CROSSING_COST_MM
    return total


def _shared(leg: Segment, other: Segment, flat: bool) -> float:
    """Return the cost of running along another conductor closer than two grid steps."""
    axis, across = (0, 1) if flat else (1, 0)
    cost = sharing_cost(leg[0][across] - other[0][across])
    if not cost:
        return 0.0
    low = max(min(leg[0][axis], leg[1][axis]), min(other[0][axis], other[1][axis]))
    high = min(max(leg[0][axis], leg[1][axis]), max(other[0][axis], other[1][axis]))
    return cost * max(0.0, high - low)
