"""Where conductors of one terminal part: they leave as one line, square, with a dot at each tee."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct, field

from app.drawing.conductors import look_of
from app.drawing.marks import Point
from model.diagram import Diagram


class Tees(Struct, frozen=True):
    """The tees on one conductor, and those of them whose dot it draws."""

    points: set[Point] = field(default_factory=set)
    dots: set[Point] = field(default_factory=set)


def tees(diagram: Diagram, paths: Mapping[str, Sequence[Point]]) -> dict[str, Tees]:
    """Return the tees of every conductor that has any."""
    found: dict[str, Tees] = {}
    for group in _of_one_terminal(diagram, paths):
        drawn: set[Point] = set()
        for (item, one), (other, two) in itertools.combinations(group, 2):
            at = _parting(one, two)
            if at is None:
                continue
            for each in (item, other):
                found.setdefault(each, Tees()).points.add(at)
            if at not in drawn:
                found[item].dots.add(at)
                drawn.add(at)
    return found


def _of_one_terminal(
    diagram: Diagram, paths: Mapping[str, Sequence[Point]]
) -> Iterator[list[tuple[str, Sequence[Point]]]]:
    """Yield the paths of one sort from each terminal, beginning there."""
    groups: dict[tuple[str, str, str], list[tuple[str, Sequence[Point]]]] = {}
    for item, path in paths.items():
        wire = diagram.conductors[item]
        for end, points in zip(wire.ends(), (path, path[::-1]), strict=True):
            key = (end.component, end.terminal, look_of(wire).role)
            groups.setdefault(key, []).append((item, points))
    return (group for group in groups.values() if len(group) > 1)


def _parting(one: Sequence[Point], two: Sequence[Point]) -> Point | None:
    """Return where two paths from one point leave one another, None when they do so at once."""
    for i in range(min(len(one), len(two)) - 1):
        if one[i] != two[i]:
            return None
        ways = [_way(path[i], path[i + 1]) for path in (one, two)]
        if ways[0][:2] != ways[1][:2]:
            return one[i] if i else None
        if ways[0][2] != ways[1][2]:
            return min((one, two), key=lambda path: _way(path[i], path[i + 1])[2])[i + 1]
    return None


def _way(a: Point, b: Point) -> tuple[int, int, float]:
    """Return a leg's direction and length."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    return ((dx > 0) - (dx < 0), (dy > 0) - (dy < 0), abs(dx) + abs(dy))
