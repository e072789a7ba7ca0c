"""In which order the nodes of each row stand, so that few lines cross.

Sweeps down and up: each row is put in order by the mean of its neighbours' places, then
neighbouring nodes change places as long as that saves crossings. Several first orders are tried,
the best answer is kept.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence

import numpy as np

from app.drawing.tidy.net import Net, Piece, is_under, neighbours

SWEEPS, ROUNDS = 10, 4
MOST_STARTS, STARTS_TIMES_NODES, FEWER = 100, 5000, 8  # at random, beside the ones with a reason
NEAR = 1e-3  # what a millimetre at a node counts beside places in a row
LEVEL_SPAN = 0.1  # what a node between the ends of a level piece costs, in crossings
SIDE = 1e-2  # parts that want to the left or right, in crossings for each place

Order = list[list[str]]


def ordered(net: Net, throw: int = 0) -> Order:
    """Return the rows in an order with few crossings.

    Throw 0 begins with everything that has a reason, and by chance; others by chance alone.
    """
    counted = _Crossings(net)
    best: Order = [list(row) for row in net.rows]
    least = float("inf")
    for start in _starts(net, throw):
        found, price = _swept(counted, start)
        if price < least - 1e-9:
            best, least = found, price
    mirrored, price = _swept(counted, [row[::-1] for row in best])
    return mirrored if price < least else best


def _starts(net: Net, throw: int) -> list[Order]:
    """Return orders to begin with: along the graph's slow modes, by the wishes, by chance."""
    how_many = min(MOST_STARTS, STARTS_TIMES_NODES // sum(len(row) for row in net.rows))
    chance = random.Random(throw + 1)  # the same every time: a sheet is tidied alike
    if throw:
        return [_thrown(net, chance) for _ in range(how_many // FEWER)]
    wishes = {item: net.wishes.get(item, 0.0) for item in net.parts}
    starts = [[sorted(row, key=lambda node: (mode[node], node)) for row in net.rows]  # noqa: B023
              for mode in (*_slow_modes(net), _spread(net, wishes))]
    starts += [[row[::-1] for row in start] for start in starts]
    starts += [_thrown(net, chance) for _ in range(how_many)]
    return starts


def _thrown(net: Net, chance: random.Random) -> Order:
    return [sorted(row, key=lambda _: chance.random()) for row in net.rows]


def _slow_modes(net: Net, how_many: int = 3) -> list[dict[str, float]]:
    """Return the eigenvectors of the smallest eigenvalues: near parts get near values.

    Passages stand between the parts that their line joins.
    """
    number = {item: i for i, item in enumerate(net.parts)}
    laplace = 1e-3 * (np.eye(len(number)) - 1.0 / len(number))  # keeps separate circuits in order
    for line in net.lines():
        a, b = (number[item] for item, _ in line.ends)
        laplace[a, a] += line.heavy
        laplace[b, b] += line.heavy
        laplace[a, b] -= line.heavy
        laplace[b, a] -= line.heavy
    vectors = np.linalg.eigh(laplace)[1]
    return [_spread(net, dict(zip(number, vectors[:, k].tolist(), strict=True)))
            for k in range(1, min(1 + how_many, len(number)))]


def _spread(net: Net, mode: Mapping[str, float]) -> dict[str, float]:
    """Return values for all nodes, of those of the parts."""
    means = {line.item: sum(mode[item] for item, _ in line.ends) / 2 for line in net.lines()}
    values = {}
    for row in net.rows:
        for node in row:
            item = net.shades.get(node, node)
            value = mode[item] if item in mode else means[node.rpartition("/")[0]]
            values[node] = round(value, 9)
    return values


def _swept(counted: _Crossings, start: Order) -> tuple[Order, float]:
    rows = [list(row) for row in start]
    best, least = [list(row) for row in rows], counted.price(rows)
    for sweep in range(SWEEPS):
        downward = sweep % 2 == 0
        for k in (range(len(rows)) if downward else reversed(range(len(rows)))):
            _by_means(counted, rows, k, None if sweep >= SWEEPS - 4 else downward)
        _swapped(counted, rows)
        price = counted.price(rows)
        if price < least - 1e-9:
            best, least = [list(row) for row in rows], price
    return best, least


def _by_means(counted: _Crossings, rows: Order, k: int, downward: bool | None) -> None:
    """Put a row in order by the mean place of neighbours above (downward), below, or both."""
    place = counted.places(rows)
    means = {}
    for i, node in enumerate(rows[k]):
        near = counted.near(node, k, downward)
        means[node] = (sum(place[other] * weight for other, weight in near)
                       / sum(weight for _, weight in near)) if near else place[node]
        means[node] += 1e-6 * i
    rows[k].sort(key=means.__getitem__)


def _swapped(counted: _Crossings, rows: Order) -> None:
    """Let neighbours in a row change places while it pays."""
    at = {node: float(i) for row in rows for i, node in enumerate(row)}
    for _ in range(ROUNDS):
        gained = False
        for row in rows:
            for i in range(len(row) - 1):
                u, v = row[i], row[i + 1]
                gain = counted.gain(at, u, v) + counted.level_at(row, at, u, v)
                row[i], row[i + 1] = v, u
                at[u], at[v] = at[v], at[u]
                gain -= counted.level_at(row, at, u, v)
                if gain > 1e-9:
                    gained = True
                else:
                    row[i], row[i + 1] = u, v
                    at[u], at[v] = at[v], at[u]
        if not gained:
            return


class _Crossings:
    """Counts what an order costs."""

    def __init__(self, net: Net) -> None:
        shades = {shade: net.wishes.get(item, 0.0) for shade, item in net.shades.items()}
        self._wish = {**net.wishes, **shades}
        self._row = net.row_of()
        self._between: list[list[Piece]] = [[] for _ in net.rows]  # row k to row k + 1
        self._up: dict[str, list[tuple[str, float]]] = {}
        self._down: dict[str, list[tuple[str, float]]] = {}
        for piece in net.pieces:
            upper, lower = piece.upper, piece.lower
            if not piece.level:
                self._between[self._row[upper.node]].append(piece)
                self._down.setdefault(upper.node, []).append((lower.node, NEAR * lower.x_mm))
                self._up.setdefault(lower.node, []).append((upper.node, NEAR * upper.x_mm))
        self._along = self._along_rows(net)
        self._level: dict[str, list[int]] = {}
        for number, along in enumerate(self._along):
            for node in along[:2]:
                self._level.setdefault(node, []).append(number)
        self._near = neighbours(net.pieces)

    def _along_rows(self, net: Net) -> list[tuple[str, str, Mapping[str, int]]]:
        """Return the pieces along rows, each with how many pieces enter a node on its side."""
        from_above = {node: len(ends) for node, ends in self._up.items()}
        from_below = {node: len(ends) for node, ends in self._down.items()}
        return [(piece.upper.node, piece.lower.node,
                 from_below if is_under(net, piece) else from_above)
                for piece in net.pieces if piece.level]

    def places(self, rows: Sequence[Sequence[str]]) -> dict[str, float]:
        """Return where each node stands along its row, from 0 to 1."""
        return {node: (i + 0.5) / len(row) for row in rows for i, node in enumerate(row)}

    def near(self, node: str, k: int, downward: bool | None) -> list[tuple[str, float]]:
        """Return the neighbours of a node that count in a sweep."""
        wanted: Callable[[int], bool] = (
            (lambda _row: True) if downward is None
            else (lambda row: row <= k) if downward else (lambda row: row >= k))
        return [(other, weight) for other, weight in self._near.get(node, ())
                if wanted(self._row[other])]

    def gain(self, at: Mapping[str, float], u: str, v: str) -> float:
        """Return what it saves to put `v`, just right of `u`, to its left; level pieces apart."""
        saved = SIDE * (self._wish.get(u, 0.0) - self._wish.get(v, 0.0))
        for ends in (self._up, self._down):
            for other, x in ends.get(u, ()):
                mine = at[other] + x
                for another, y in ends.get(v, ()):
                    theirs = at[another] + y
                    saved += (mine > theirs) - (mine < theirs)
        return saved

    def price(self, rows: Order) -> float:
        """Return what the whole order costs."""
        total = 0.0
        at = {node: float(i) for row in rows for i, node in enumerate(row)}
        for piece in self._along:
            total += self._price_level(rows[self._row[piece[0]]], at, piece)
        for k, row in enumerate(rows):
            total += self._price_between(rows, k)
            total -= SIDE * sum(self._wish.get(node, 0.0) * i for i, node in enumerate(row))
        return total

    def _price_between(self, rows: Order, k: int) -> float:
        pieces = self._between[k]
        if len(pieces) < 2:
            return 0.0
        upper = {node: i for i, node in enumerate(rows[k])}
        lower = {node: i for i, node in enumerate(rows[k + 1])}
        ends = np.array([(upper[p.upper.node] + NEAR * p.upper.x_mm,
                          lower[p.lower.node] + NEAR * p.lower.x_mm) for p in pieces])
        over = np.sign(ends[:, None, 0] - ends[None, :, 0])
        under = np.sign(ends[:, None, 1] - ends[None, :, 1])
        return float(np.count_nonzero(over * under < 0)) / 2

    def level_at(self, row: Sequence[str], at: Mapping[str, float], u: str, v: str) -> float:
        """Return what the pieces along a row cost that end at one of two neighbours."""
        if u not in self._level and v not in self._level:
            return 0.0
        pieces = {*self._level.get(u, ()), *self._level.get(v, ())}
        return sum(self._price_level(row, at, self._along[piece]) for piece in pieces)

    def _price_level(
        self, row: Sequence[str], at: Mapping[str, float], piece: tuple[str, str, Mapping[str, int]]
    ) -> float:
        """Return what a piece along a row costs: what it crosses, and how far it reaches."""
        upper, lower, entered = piece
        a, b = int(at[upper]), int(at[lower])
        if a > b:
            a, b = b, a
        total = LEVEL_SPAN * (b - a - 1)
        for i in range(a + 1, b):
            total += entered.get(row[i], 0)
        return total
