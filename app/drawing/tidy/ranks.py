"""In which row each part stands: what feeds above what is fed, negatives at the foot.

The rows are the cheapest answer to "this lies at least so many rows below that": a linear program
whose constraints are differences, so that its corners are whole numbers.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from msgspec import Struct
from msgspec.structs import replace
from scipy.optimize import linprog
from scipy.sparse import csr_matrix

from app.drawing.placing import PlacedPart
from app.drawing.tidy.standing import (
    DOWN,
    UP,
    Line,
    is_bar,
    is_negative_bar,
    rows_taken,
    side_of,
)
from app.drawing.tidy.tiers import lowered, stacked
from model.kinds import kind_of

PULL = 0.02  # everything unbound rises
LONER_MM, ROW_WIDTH_MM = 30.0, 360.0  # its lettering; what a row of an A3 holds
BAR, SIDEWAYS, NEGATIVE_BAR = 0.0, -0.5, -0.7
TOP_KINDS = ("solar_array", "wind_generator", "shore_inlet", "generating_set")


class Above(Struct, frozen=True):
    """One part at least some rows above another; how dear each row between them is."""

    upper: str
    lower: str
    least: int
    weight: float


def ranked(
    parts: Mapping[str, PlacedPart], lines: Sequence[Line], most_rows: int, tiers: int = 1
) -> dict[str, int]:
    """Return the row of each part, the top one 0; more rows than allowed only if they must be."""
    by_lines = [_clear(parts, one) for one in _by_lines(parts, lines)]
    lower_by = lowered(parts, lines, tiers)
    by_lines = [replace(one, least=one.least + lower_by.get((one.upper, one.lower), 0))
                for one in by_lines]
    foot = [_clear(parts, one) for one in _foot(parts, _feeding(parts, by_lines))]
    depth = {item: rows_taken(part) for item, part in parts.items()}
    kept = _without_circles([*sorted(by_lines, key=lambda one: -one.weight), *foot],
                            depth, most_rows)
    lower = {one.lower for one in kept}
    tops = {item for item, part in parts.items() if is_top(part) and item not in lower}
    rows = _solved(list(parts), kept, _even(parts), tops)
    if tiers > 1:
        rows = stacked(rows, depth, lines, most_rows)
    joined = {item for line in lines for item, _ in line.ends}
    return _with_loners(parts, {item: row for item, row in rows.items() if item in joined})


def _with_loners(
    parts: Mapping[str, PlacedPart], rows: Mapping[str, int]
) -> dict[str, int]:
    """Return the rows with what is joined to nothing in the emptiest ones, low ones first."""
    found = dict(rows)
    room = {item: part.body.w + LONER_MM for item, part in parts.items()}
    count = max(max(rows.values(), default=0) + 1, math.ceil(sum(room.values()) / ROW_WIDTH_MM))
    width = dict.fromkeys(range(count), 0.0)
    for item, row in rows.items():
        width[row] += room[item]
    for item in sorted(set(parts) - set(rows)):
        row = min(width, key=lambda k: (width[k], -k))
        width[row] += room[item]
        found[item] = row
    return found


def is_top(part: PlacedPart) -> bool:
    """Say whether a part is a source that belongs in the top row."""
    return part.component.kind in TOP_KINDS


def _by_lines(parts: Mapping[str, PlacedPart], lines: Iterable[Line]) -> Iterable[Above]:
    crowd: dict[tuple[str, str], int] = {}
    for line in lines:
        for end in line.ends:
            crowd[end] = crowd.get(end, 0) + 1
    for line in lines:
        (a, _), (b, _) = line.ends
        side_a, side_b = (_side(parts[item], port) for item, port in line.ends)
        weight = line.heavy if not line.negative else line.heavy / 3
        if side_a == side_b:
            yield from _level(parts, line, crowd, side_a, weight)
        else:
            upper, lower = (a, b) if side_a > side_b else (b, a)
            yield Above(upper, lower, 0 if max(side_a, side_b) == SIDEWAYS else 1, weight)


def _clear(parts: Mapping[str, PlacedPart], one: Above) -> Above:
    """Return the wish with room for the rows that the upper part takes."""
    rows = rows_taken(parts[one.upper])
    return Above(one.upper, one.lower, one.least + rows - 1, one.weight) if one.least else one


def _side(part: PlacedPart, port: str) -> float:
    """Return where an end points: the larger of two lies above the other."""
    if is_bar(part.component):
        return NEGATIVE_BAR if is_negative_bar(part.component) else BAR
    if not port:
        return float(UP if kind_of(part.component).role == "engine" else DOWN)
    return float(side_of(part.port(port))) or SIDEWAYS


def _level(
    parts: Mapping[str, PlacedPart], line: Line, crowd: Mapping[tuple[str, str], int],
    side: float, weight: float,
) -> Iterable[Above]:
    """Yield what becomes of a line whose ends point the same way."""
    (a, _), (b, _) = ends = line.ends
    if side == BAR:
        yield Above(a, b, 1, weight)
    elif side in (SIDEWAYS, UP):
        hub, hung = ends
        if _hubness(parts, hung, crowd) > _hubness(parts, hub, crowd):
            hub, hung = hung, hub
        yield Above(hub[0], hung[0], 0, weight)


def _hubness(
    parts: Mapping[str, PlacedPart], end: tuple[str, str], crowd: Mapping[tuple[str, str], int]
) -> tuple[int, int]:
    storage = kind_of(parts[end[0]].component).role == "storage"
    return (int(storage), crowd[end])


def _feeding(parts: Mapping[str, PlacedPart], wishes: Iterable[Above]) -> set[str]:
    """Return what has parts below that are not of the foot: there negatives are fused too."""
    return {one.upper for one in wishes
            if one.least and kind_of(parts[one.lower].component).role not in ("earth", "engine")}


def _foot(parts: Mapping[str, PlacedPart], feeding: set[str]) -> Iterable[Above]:
    """Yield that negative bars lie below everything but what is earth itself."""
    for bar, part in parts.items():
        if not is_negative_bar(part.component) or bar in feeding:
            continue
        for item, other in parts.items():
            role = kind_of(other.component).role
            if role not in ("earth", "engine") and not is_negative_bar(other.component):
                yield Above(item, bar, 1, 0.0)


def _even(parts: Mapping[str, PlacedPart]) -> list[tuple[str, str, float]]:
    """Return pairs that would rather stand in one row: batteries, negative bars."""
    pairs = []
    for alike, weight in ((lambda p: kind_of(p.component).role == "storage", 0.3),
                          (lambda p: is_negative_bar(p.component), 0.5)):
        same = [item for item, part in parts.items() if alike(part)]
        pairs += [(same[0], other, weight) for other in same[1:]]
    return pairs


def _without_circles(
    wanted: Iterable[Above], depth: Mapping[str, int], most_rows: int
) -> list[Above]:
    """Return the wishes that contradict no earlier one and do not ask for too many rows."""
    below: dict[str, dict[str, int]] = {}
    above: dict[str, dict[str, int]] = {}
    kept = []
    for one in wanted:
        if one.upper == one.lower:
            continue
        over = _longest(above, one.upper)
        under = _longest(below, one.lower)
        if one.upper in under or max(over.values()) + one.least + max(
                rows + depth[item] for item, rows in under.items()) > most_rows:
            continue
        for chain, a, b in ((below, one.upper, one.lower), (above, one.lower, one.upper)):
            ways = chain.setdefault(a, {})
            ways[b] = max(ways.get(b, 0), one.least)
        kept.append(one)
    return kept


def _longest(chain: Mapping[str, Mapping[str, int]], start: str) -> dict[str, int]:
    """Return how many rows everything that can be reached lies away at least."""
    rows = {start: 0}
    queue = [start]
    while queue:
        here = queue.pop()
        for other, least in chain.get(here, {}).items():
            if rows[here] + least > rows.get(other, -1):
                rows[other] = rows[here] + least
                queue.append(other)
    return rows


def _solved(
    items: list[str], kept: Sequence[Above], even: Sequence[tuple[str, str, float]],
    tops: set[str],
) -> dict[str, int]:
    number = {item: i for i, item in enumerate(items)}
    count = len(items)
    cost = np.full(count + len(even), PULL)
    rows: list[dict[int, float]] = []
    least: list[float] = []
    for one in kept:
        upper, lower = number[one.upper], number[one.lower]
        cost[lower] += one.weight
        cost[upper] -= one.weight
        rows.append({upper: 1.0, lower: -1.0})
        least.append(-one.least)
    for k, (a, b, weight) in enumerate(even):
        cost[count + k] = weight
        for sign in (1.0, -1.0):
            rows.append({number[a]: sign, number[b]: -sign, count + k: -1.0})
            least.append(0.0)
    if not rows:
        return dict.fromkeys(items, 0)
    bounds = [(0, 0 if item in tops else 1000) for item in items] + [(0, 1000)] * len(even)
    answer = linprog(cost, sparse(rows, len(cost)), least, bounds=bounds, method="highs")
    return {item: round(answer.x[i]) for item, i in number.items()}


def sparse(rows: Sequence[Mapping[int, float]], width: int) -> csr_matrix:
    """Return the rows as a matrix."""
    data = [value for row in rows for value in row.values()]
    columns = [column for row in rows for column in row]
    starts = np.cumsum([0, *(len(row) for row in rows)])
    return csr_matrix((data, columns, starts), shape=(len(rows), width))
