"""Many conductors routed at once: easy ones first, then each again knowing all the others.

Conductors of one sort that end on one terminal may share the first legs from it: they leave as
one line that tees. A stud is left to any side and needs none. Elsewhere lines keep apart.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct

from app.drawing.route_prices import Box, Point, Segment
from app.drawing.routing import RouteEnd, crossing, joined, legs, price, route

Path = tuple[Point, ...]
ROUNDS = 2
SHARED_LEGS = 2  # from a common terminal


class Kept(Struct, frozen=True):
    """A conductor that has its path."""

    path: Path
    sort: str = ""


class Wanted(Struct, frozen=True):
    """A conductor to be routed: its ends, what sort it is, and upright runs it had better take."""

    start: RouteEnd
    finish: RouteEnd
    sort: str = ""
    runs: tuple[Segment, ...] = ()


def routed_together(
    wanted: Mapping[str, Wanted], bodies: Sequence[Box], kept: Mapping[str, Kept],
    rounds: int = ROUNDS,
) -> dict[str, Path]:
    """Return a path for each wanted conductor, among the kept ones, which stay as they are.

    In each further round every conductor with corners or crossings is routed again.
    """
    laid = dict(kept)
    for item in sorted(wanted, key=lambda item: (*_ease(wanted[item]), item)):
        one = wanted[item]
        laid[item] = Kept(_along(one, bodies, legs_beside(laid, item, one)), one.sort)
    for _ in range(rounds):
        before = dict(laid)
        for item in _hardest_first(wanted, {key: one.path for key, one in laid.items()}):
            one = wanted[item]
            laid[item] = Kept(_best(one, bodies, legs_beside(laid, item, one)), one.sort)
        if laid == before:
            break
    return {item: laid[item].path for item in wanted}


def legs_beside(laid: Mapping[str, Kept], item: str, wanted: Wanted) -> list[Segment]:
    """Return the legs that a conductor is to keep away from."""
    return [leg for other, one in laid.items() if other != item
            for leg in _unshared(one, wanted)]


def _best(wanted: Wanted, bodies: Sequence[Box], others: Sequence[Segment]) -> Path:
    """Return the cheaper of the path along the runs and the direct one."""
    direct = route(wanted.start, wanted.finish, bodies, others)
    if not wanted.runs:
        return direct
    along = _along(wanted, bodies, others)
    ends = (wanted.start, wanted.finish)
    return min(along, direct, key=lambda path: price(path, ends, bodies, others))


def _along(wanted: Wanted, bodies: Sequence[Box], others: Sequence[Segment]) -> Path:
    """Return a path over the wanted runs: short routes, joined."""
    here = wanted.start
    points: list[Point] = []
    for a, b in wanted.runs:
        down = 1 if b[1] >= a[1] else -1
        points += route(here, RouteEnd(a, (0, -down)), bodies, others)
        here = RouteEnd(b, (0, down))
    points += route(here, wanted.finish, bodies, others)
    return joined(wanted.start, points, wanted.finish)


def _unshared(kept: Kept, wanted: Wanted) -> list[Segment]:
    """Return a path's legs without those next to a terminal that it shares with its own sort."""
    path, found = kept.path, legs(kept.path)
    if kept.sort != wanted.sort:
        return found
    at = [end.at for end in (wanted.start, wanted.finish) if end.direction != (0, 0)]
    if path[0] in at:
        found = found[SHARED_LEGS:]
    if path[-1] in at:
        found = found[:max(0, len(found) - SHARED_LEGS)]
    return found


def _ease(wanted: Wanted) -> tuple[bool, float]:
    """Return the order of routing: straight ones, then short ones."""
    (ax, ay), (bx, by) = wanted.start.at, wanted.finish.at
    return (ax != bx and ay != by, abs(ax - bx) + abs(ay - by))


def _hardest_first(wanted: Iterable[str], paths: Mapping[str, Path]) -> list[str]:
    """Return the conductors with corners or crossings, those with most first."""
    trouble = {item: len(paths[item]) - 2 + crossings_of(item, paths) for item in wanted}
    return sorted((item for item in wanted if trouble[item]), key=lambda i: (-trouble[i], i))


def crossings_of(item: str, paths: Mapping[str, Path]) -> int:
    """Return how often a conductor crosses others."""
    own = legs(paths[item])
    return sum(crossing(a, b) is not None for other, path in paths.items() if other != item
               for b in legs(path) for a in own)
