"""Where each node stands across the sheet: as straight below its neighbours as there is room.

A linear program on the grid. What is dear is a line that leaves its column, the dearest one in the
middle of a long line; what is demanded is room between the nodes of a row. A bar reaches over all
its studs, and its studs slide along it to whatever they are joined to.
"""

from __future__ import annotations

import math
import statistics
from collections import Counter
from collections.abc import Mapping, Sequence

from msgspec import Struct
from scipy.optimize import linprog

from app.drawing.labels import SPEAKS_INSIDE
from app.drawing.lettering import measured, narrow, part_lines, slim_lines
from app.drawing.placing import PlacedPart
from app.drawing.route_prices import GRID_MM
from app.drawing.tidy.net import ASIDE_MM, Hold, Net, Piece
from app.drawing.tidy.order import Order
from app.drawing.tidy.ranks import sparse
from app.drawing.tidy.standing import slides
from model.kinds.distribution import stud_ids

STRAIGHT = (3.0, 3.0, 8.0)  # by how many ends of a piece are passages
LEVEL_WEIGHT = 0.7  # of a piece that has corners anyway
BAR_WEIGHT = 0.02  # a bar is as short as it can be
PARALLEL_MM, CLEAR_MM, STUDS_MM, BAR_END_MM = 5.0, 5.0, 5.0, 5.0
LABEL_GAP_MM = 2.6
PLACES_MM = 5.0  # more room between parts of different places
WIDTH_WEIGHT = 0.01
_LEFT, _RIGHT = ("left", "", "edge"), ("right", "", "edge")

Stud = tuple[str, str]


class Columns(Struct, frozen=True):
    """Origins of parts and passages, studs and ends of bars, across the sheet; from 0. [mm]."""

    nodes: Mapping[str, float]
    studs: Mapping[Stud, float]
    ends: Mapping[str, float]
    width_mm: float

    def at(self, hold: Hold) -> float:
        """Return where a piece is held. [mm]."""
        stud = self.studs.get((hold.node, hold.port))
        return stud if stud is not None else self.nodes[hold.node] + hold.x_mm


class Room(Struct, frozen=True):
    """How much air there is between the nodes of a row, and whether lettering is to be slim."""

    air: float
    slim: bool = False


class Extent(Struct, frozen=True):
    """How far a node reaches to the left and right of its origin. [mm]."""

    left: float
    right: float


def columned(net: Net, rows: Order, room: Room, most_mm: float) -> Columns | None:
    """Return the columns, or None when they need more width."""
    first = _Program(net, rows, room, most_mm).solved({})
    if first is None:
        return None
    return _Program(net, rows, room, most_mm).solved(_in_order(net, first))



def _in_order(net: Net, first: Columns) -> dict[str, list[Stud]]:
    """Return each bar's studs in the order of what they are joined to."""
    towards: dict[Stud, list[float]] = {stud: [] for stud in first.studs}
    for piece in net.pieces:
        for one, other in ((piece.upper, piece.lower), (piece.lower, piece.upper)):
            if (one.node, one.port) in towards:
                towards[(one.node, one.port)].append(first.at(other))
    bars: dict[str, list[Stud]] = {}
    for stud in sorted(towards, key=lambda s: (statistics.fmean(towards[s]), s)):
        bars.setdefault(stud[0], []).append(stud)
    return bars


def crooked(net: Net, columns: Columns) -> int:
    """Return how many pieces leave their column that lead from row to row."""
    return sum(abs(columns.at(piece.upper) - columns.at(piece.lower)) > 1e-6
               for piece in net.pieces if not piece.level)


def least_width_mm(net: Net, row: Sequence[str]) -> float:
    """Return what a row needs at least, in the tightest room. [mm]."""
    total = 0.0
    for node in row:
        part = net.part_at(node)
        if part is None:
            total += PARALLEL_MM
        elif not slides(part.component):
            total += part.body.w
            if part.component.kind not in SPEAKS_INSIDE and node not in net.shades:
                total += LABEL_GAP_MM + lettering_mm(part, True)
    return total


class _Program:
    """The linear program; its unknowns are whole steps of the grid."""

    def __init__(self, net: Net, rows: Order, room: Room, most_mm: float) -> None:
        self._net, self._rows, self._room, self._most_mm = net, rows, room, most_mm
        self._crowd = Counter(hold for piece in net.pieces for hold in (piece.upper, piece.lower))
        self._used: dict[str, set[str]] = {}
        for hold in self._crowd:
            if hold.port:
                self._used.setdefault(net.shades.get(hold.node, hold.node), set()).add(hold.port)
        self._number: dict[object, int] = {}
        self._cost: list[float] = []
        self._terms: list[dict[int, float]] = []
        self._least: list[float] = []

    def solved(self, studs: Mapping[str, Sequence[Stud]]) -> Columns | None:
        """Solve, with the studs of bars in the order given."""
        self._unknown(_LEFT)
        self._unknown(_RIGHT, WIDTH_WEIGHT)
        for row in self._rows:
            for node in row:
                self._unknown(node)
        for piece in self._net.pieces:
            if piece.line.item:
                self._straighten(piece)
            else:  # a tall part reaches straight down
                self._demand(self._held(piece.upper), self._held(piece.lower), 0)
                self._demand(self._held(piece.lower), self._held(piece.upper), 0)
        for row in self._rows:
            self._inside(row)
            for left, right in zip(row, row[1:], strict=False):
                self._apart(left, right)
        self._bars(studs)
        answer = linprog(self._cost, sparse(self._terms, len(self._cost)), self._least,
                         bounds=(0, math.floor(self._most_mm / GRID_MM)), method="highs-ds")
        if answer.x is None:
            return None
        at = {key: round(answer.x[i]) * GRID_MM for key, i in self._number.items()}
        nodes = {key: x for key, x in at.items() if isinstance(key, str)}
        found = {key: x for key, x in at.items() if isinstance(key, tuple) and len(key) == 2}
        ends = {key[0]: x for key, x in at.items()
                if isinstance(key, tuple) and key[2:] == ("end",)}
        return Columns(nodes, found, ends, at[_RIGHT])

    def _unknown(self, key: object, cost: float = 0.0) -> int:
        """Return the number of an unknown, new when it is."""
        if key not in self._number:
            self._number[key] = len(self._cost)
            self._cost.append(0.0)
        self._cost[self._number[key]] += cost
        return self._number[key]

    def _demand(self, left: int, right: int, least_mm: float) -> None:
        """Demand that `right` lies at least so far to the right of `left`."""
        self._terms.append({left: 1.0, right: -1.0})
        self._least.append(-float(math.ceil(least_mm / GRID_MM - 1e-6)))

    def _straighten(self, piece: Piece) -> None:
        shared = any(self._crowd[hold] > 1 for hold in (piece.upper, piece.lower) if hold.port)
        weight = piece.line.heavy * (
            LEVEL_WEIGHT if piece.level or shared else STRAIGHT[piece.through])
        ends = [(self._held(hold), round(hold.x_mm / GRID_MM))
                for hold in (piece.upper, piece.lower)]
        (a, step_a), (b, step_b) = ends
        apart = self._unknown(("apart", "", len(self._cost)), weight)
        for sign in (1.0, -1.0):
            self._terms.append({a: sign, b: -sign, apart: -1.0})
            self._least.append(sign * (step_b - step_a))

    def _held(self, hold: Hold) -> int:
        return self._unknown((hold.node, hold.port) if self._is_bar(hold.node) else hold.node)

    def _is_bar(self, node: str) -> bool:
        return node in self._net.parts and slides(self._net.parts[node].component)

    def _inside(self, row: Sequence[str]) -> None:
        """Demand that a row lies between the edges."""
        first, last = row[0], row[-1]
        self._demand(self._number[_LEFT], self._unknown(first), self._extent(first).left)
        self._demand(self._end_of(last), self._number[_RIGHT], self._reach(last))

    def _apart(self, left: str, right: str) -> None:
        gap = PARALLEL_MM if None in (self._net.part_at(left), self._net.part_at(right)) \
            else CLEAR_MM * self._room.air
        if self._net.place_at(left) != self._net.place_at(right):
            gap += PLACES_MM
        reach = self._reach(left) + self._extent(right).left + gap
        self._demand(self._end_of(left), self._unknown(right), reach)

    def _end_of(self, node: str) -> int:
        return self._unknown((node, "", "end") if self._is_bar(node) else node)

    def _reach(self, node: str) -> float:
        """Return how far a node and its lettering reach to the right of its origin. [mm]."""
        right = self._extent(node).right
        part = self._net.parts.get(node)
        if part is None or self._is_bar(node) or part.component.kind in SPEAKS_INSIDE:
            return right
        return right + LABEL_GAP_MM + lettering_mm(part, self._room.slim)

    def _extent(self, node: str) -> Extent:
        part = self._net.part_at(node)
        if part is None:
            return Extent(0.0, 0.0)
        if self._is_bar(node):
            return Extent(BAR_END_MM, BAR_END_MM)
        aside = [part.port(port).at[0] + ASIDE_MM * part.port(port).direction[0]
                 for port in self._used.get(part.component.id, ())]
        return Extent(-min((part.body.x0, *aside)), max((part.body.x1, *aside)))

    def _bars(self, studs: Mapping[str, Sequence[Stud]]) -> None:
        """Demand that each bar reaches from its first stud to its last."""
        for node in self._net.parts:
            if not self._is_bar(node):
                continue
            start = self._unknown(node, -BAR_WEIGHT)
            end = self._unknown((node, "", "end"), BAR_WEIGHT)
            part = self._net.parts[node]
            studs_mm = STUDS_MM * (len(stud_ids(part.component.parameters)) - 1)
            self._demand(start, end, max(studs_mm, lettering_mm(part, True)))
            for key in list(self._number):
                if isinstance(key, tuple) and len(key) == 2 and key[0] == node:
                    self._demand(start, self._number[key], 0)
                    self._demand(self._number[key], end, 0)
            for a, b in zip(studs.get(node, ()), studs.get(node, ())[1:], strict=False):
                self._demand(self._number[a], self._number[b], STUDS_MM)


def lettering_mm(part: PlacedPart, slim: bool) -> float:
    """Return how wide a part's lettering is, with its rating on a line of its own. [mm]."""
    return max(measured(slim_lines(part) if slim else narrow(part_lines(part))).widths)
