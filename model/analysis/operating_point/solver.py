"""Newton's method on a network of piecewise elements. Arrays in, volts out; knows no boats.

Modified nodal analysis without extra unknowns. Islands come first: each has one node pinned at
zero. A step that would carry a source from idle to its limit, over the narrow stretch in which it
holds its voltage, is shortened to land there. Else a step is halved while the residual grows; if
Newton does not settle, the volts are let go from where they were at first as they would aboard,
each node with a capacitance. Stops on the step and on the residual,
so that what hangs behind an open diode is right too. Factors are kept while the slopes they are
made of have hardly changed: most last steps only confirm.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

from model.analysis.operating_point.elements import (
    Array,
    Currents,
    Elements,
    ElementsTogether,
    NetworkElements,
    Stamp,
)
from model.analysis.operating_point.network import OPEN_S, Network
from model.analysis.operating_point.pieces import islands, joined, joined_before

STEP_V, RESIDUAL_A = 1e-9, 1e-8
MOST_STEPS, MOST_HALVINGS, MOST_IDLE_STEPS = 80, 8, 20
NEARER = 0.999  # of the best residual so far counts as coming nearer
MOST_NEAR_STEPS = 8  # a start that leads home does so in few; else the EMF side is the shorter way
HELD_S = 10.0  # at every node of volts that are let go: of the order of what is joined there
MOST_EASED, MOST_TIGHTENED = 0.3, 2.0  # by which a step may change how strongly nodes are held
RUN_AWAY = 10.0  # volts this many times those at first: what feeds itself comes to no rest
SLOPE_SHARE = 0.02  # by which each slope may differ from the one that was factored


@dataclass(frozen=True, slots=True)
class Solution:
    """Volts of every node, how well they fit, and whether the method settled; with the elements
    that were solved and their currents. `collapsed` says that only an answer without the EMF side
    was found.
    """

    volts: Array
    residual_a: float
    steps: int
    settled: bool
    island: Array
    elements: NetworkElements
    currents: Currents
    collapsed: bool = False


def solve(network: Network) -> Solution:
    """Return the operating point on the EMF side."""
    return _solved(_Problem(network))


def solve_near(network: Network, starts: Iterable[Array]) -> Solution:
    """Return the operating point from the volts of states much like it, the first that settles.

    Such volts come from the EMF side, so the same of several answers is found.
    """
    problem = _Problem(network)
    for near_v in starts:
        if len(near_v) == network.nodes:
            volts, residual, steps, settled = problem.newton(
                problem.held(near_v), MOST_NEAR_STEPS)
            if settled:
                return problem.solution(volts, residual, steps, settled)
    return _solved(problem)


def solve_together(networks: Sequence[Network], starts: Sequence[Array]) -> list[Solution]:
    """Return the operating points of networks from volts near to them, found in one search; none
    where that does not settle in few steps.
    """
    elements = ElementsTogether(networks)
    problems = [_Problem(one.network, one) for one in elements.parts]
    shifted = list(zip(problems, elements.firsts, strict=False))
    search = _Search(elements,
                     np.concatenate([one.pinned + first for one, first in shifted]),
                     np.concatenate([one.home + first for one, first in shifted]))
    volts, residual, steps, settled = search.newton(
        search.held(np.concatenate(starts)), MOST_NEAR_STEPS)
    if not settled:
        return []
    currents = elements.currents_of_parts(volts)
    return [Solution(volts[first:first + one.network.nodes], residual, steps, settled, one.island,
                     one.elements, own)
            for (one, first), own in zip(shifted, currents, strict=True)]


def _solved(problem: _Problem) -> Solution:
    network = problem.network
    feeding, holding = source_volts(network)
    bound_v, taken = RUN_AWAY * _highest(np.array(holding)), 0
    # From no volts at all only what is left when more is asked than can be given is found.
    for start, collapsed in ((feeding, False), (holding, False), ([0.0] * network.nodes, True)):
        first = problem.held(start)
        for is_let_go in (False, True):
            volts, residual, steps, settled = problem.newton(
                problem.let_go(first, bound_v) if is_let_go else first)
            taken += steps
            if settled:
                return problem.solution(volts, residual, taken, settled, collapsed)
    return problem.solution(volts, residual, taken, settled, collapsed)


def source_volts(network: Network) -> tuple[list[float], list[float]]:
    """Return for every node the volts of the first source that reaches it, as they are at rest, and
    the highest that any holds there; zero for the others.

    A constant-power load has two or three answers: only from the EMF side is the right one found.
    """
    r, d = network.resistors, network.diodes
    first = network.pieced
    piece = joined(joined_before(network), [
        *zip(r.a[first:], r.b[first:], strict=True), *zip(d.a, d.b, strict=True)])
    feeding: dict[int, float] = {}
    holding: dict[int, float] = {}
    for nodes, emf in ((network.batteries.plus, network.batteries.emf_v),
                       (network.supplies.plus, network.supplies.set_v),
                       (network.converters.out_plus, network.converters.set_v)):
        for node, own in zip(nodes, emf, strict=True):
            start, place = network.start_v[node] or own, piece[node]
            if start:
                feeding.setdefault(place, start)
            holding[place] = max(own, holding.get(place, 0.0))
    return ([feeding.get(place, 0.0) for place in piece],
            [holding.get(place, 0.0) for place in piece])


def pins(network: Network, island: Array) -> Array:
    """Return one node of each island to hold at zero: a battery's or supply's minus, if any."""
    chosen = np.unique(island, return_index=True)[1]
    preferred = [*network.batteries.minus, *network.supplies.minus, *network.converters.out_minus]
    for node in reversed(preferred):
        chosen[island[node]] = node
    return np.sort(chosen)


class _Search:
    """Newton's method on elements, with what stays the same at every step: the nodes that are
    `pinned` at zero, which of them is `home` to each node, and where slopes stand.
    """

    def __init__(self, elements: Elements, pinned: Array, home: Array) -> None:
        self._elements = elements
        self.pinned, self.home = pinned, home
        self._free = np.ones(len(home), dtype=bool)
        self._free[pinned] = False
        self._pattern: _Pattern | None = None

    def held(self, volts: Any) -> Array:
        """Return volts to start from, those of the pinned nodes zero."""
        first = np.array(volts, dtype=np.float64)
        first[self.pinned] = 0.0
        return first

    def newton(
        self, start: Array, most_steps: int = MOST_STEPS
    ) -> tuple[Array, float, int, bool]:
        """Return volts, the residual [A], the steps it took, and whether it settled."""
        volts = start.copy()
        stamp = self._elements.stamp(volts)
        currents = self._sums(stamp, volts)
        best, found_at = float("inf"), 0
        for step in range(1, most_steps + 1):
            before = self._largest(currents)
            change = self._direction(stamp, currents)
            if change is None:
                return volts, before, step, False
            if _is_small(change, volts) and before < _tolerance(stamp):
                return volts + change, before, step, True  # with it the residual is smaller still
            damping = self._elements.landing(volts, change)
            landing = damping < 1.0
            for _ in range(MOST_HALVINGS):
                tried = volts + damping * change
                stamp = self._elements.stamp(tried)
                currents = self._sums(stamp, tried)
                residual = self._largest(currents)
                if landing or residual <= max(before, RESIDUAL_A):
                    break
                damping /= 2
            volts = tried
            if residual < NEARER * best:
                best, found_at = residual, step
            if step - found_at > MOST_IDLE_STEPS:  # going round in a circle
                return volts, residual, step, False
        return volts, residual, most_steps, False

    def let_go(self, start: Array, bound_v: float) -> Array:
        """Return volts near to where they come to rest when let go, if that is within bounds.

        Each step is one of implicit Euler with a capacitance at every node, which grows less as the
        currents come to balance (pseudo-transient continuation: Kelley and Keyes, SIAM Journal on
        Numerical Analysis 35, 1998; from memory). Newton's own step points away from the answer
        where all that changes with the volts is a load of constant power.
        """
        volts, held_s = start.copy(), HELD_S
        stamp = self._elements.stamp(volts)
        currents = self._sums(stamp, volts)
        for _ in range(MOST_STEPS):
            before = self._largest(currents)
            change = self._direction(stamp, currents, held_s)
            if change is None or before < RESIDUAL_A or _highest(volts) > bound_v:
                break
            volts = volts + self._elements.landing(volts, change) * change
            stamp = self._elements.stamp(volts)
            currents = self._sums(stamp, volts)
            held_s *= min(max(self._largest(currents) / before, MOST_EASED), MOST_TIGHTENED)
        return volts

    def _direction(self, stamp: Stamp, currents: Array, held_s: float = OPEN_S) -> Array | None:
        if self._pattern is None:
            self._pattern = _Pattern(stamp, self._free)
        return self._pattern.direction(stamp, currents, held_s)

    def _largest(self, currents: Array) -> float:
        return float(np.abs(currents[self._free]).max(initial=0.0))

    def _sums(self, stamp: Stamp, volts: Array) -> Array:
        """Return the current that leaves each node in sum; zero in a solution."""
        total: Array = OPEN_S * (volts - volts[self.home])
        return total + np.bincount(
            np.concatenate(stamp.nodes), np.concatenate(stamp.currents), len(volts))


class _Problem(_Search):
    """The search in one network, whose islands have one pinned node each."""

    def __init__(self, network: Network, elements: NetworkElements | None = None) -> None:
        self.network, self.elements = network, elements or NetworkElements(network)
        self.island = islands(network)
        pinned = pins(network, self.island)
        super().__init__(self.elements, pinned, pinned[self.island])

    def solution(
        self, volts: Array, residual_a: float, steps: int, settled: bool, collapsed: bool = False
    ) -> Solution:
        """Return the answer with what it was found from."""
        return Solution(volts, residual_a, steps, settled, self.island, self.elements,
                        self.elements.currents(volts), collapsed)


def _is_small(change: Array, volts: Array) -> bool:
    return float(np.abs(change).max(initial=0.0)) < STEP_V * _highest(volts)


def _highest(volts: Array) -> float:
    """Return the highest of volts against zero, at least one. [V]."""
    return max(1.0, float(np.abs(volts).max(initial=0.0)))


def _tolerance(stamp: Stamp) -> float:
    """Return the residual that rounding leaves: relative to the largest current there is."""
    return RESIDUAL_A + 1e-10 * float(np.abs(np.concatenate(stamp.currents)).max(initial=0.0))


def factorised(matrix: Any) -> Any:
    """Return the factors of a network's matrix; raise RuntimeError when it has no inverse.

    A row has few entries and factors hardly fill: wide panels and supernodes only cost time.
    """
    return splu(matrix, permc_spec="MMD_AT_PLUS_A", panel_size=4, relax=1)


class _Pattern:
    """Where the slopes of a network's elements stand in its matrix: the same at every step."""

    def __init__(self, stamp: Stamp, free: Array) -> None:
        nodes = np.arange(len(free))
        rows = np.concatenate([*stamp.rows, nodes])
        columns = np.concatenate([*stamp.columns, nodes])
        self._free = free
        self._kept = free[rows] & free[columns]
        place = np.cumsum(free) - 1
        self._size = int(free.sum())
        cells = place[columns[self._kept]] * self._size + place[rows[self._kept]]
        filled, self._cell = np.unique(cells, return_inverse=True)
        starts = np.searchsorted(filled, np.arange(self._size + 1) * self._size).astype(np.int32)
        indices = (filled % max(self._size, 1)).astype(np.int32)
        self._matrix = csc_matrix(
            (np.zeros(len(indices)), indices, starts), shape=(self._size, self._size))
        self._slopes: Array = None
        self._factors: Any = None

    def direction(self, stamp: Stamp, currents: Array, held_s: float) -> Array | None:
        """Return Newton's step with every node held by so much, or None when the matrix has no
        inverse."""
        change = np.zeros(len(self._free))
        if self._size == 0:
            return change
        slopes = np.concatenate([*stamp.values, np.full(len(self._free), held_s)])[self._kept]
        try:
            solved: Any = self._factors_of(slopes).solve(-currents[self._free])
        except RuntimeError:
            return None
        if not np.isfinite(solved).all():
            return None
        change[self._free] = solved
        return change

    def _factors_of(self, slopes: Array) -> Any:
        """Return the factors of the matrix of these slopes, or of slopes next to the same."""
        if self._factors is None or (
            np.abs(slopes - self._slopes) > SLOPE_SHARE * np.maximum(np.abs(self._slopes), OPEN_S)
        ).any():
            self._slopes = slopes
            self._matrix.data = np.bincount(self._cell, slopes, len(self._matrix.indices))
            self._factors = factorised(self._matrix)
        return self._factors
