"""Newton's method on a network of piecewise elements. Arrays in, volts out; knows no boats.

Modified nodal analysis without extra unknowns. Islands come first: each has one node pinned at
zero. A step that would carry a source from idle to its limit, over the narrow stretch in which it
holds its voltage, is shortened to land there. Else a step is halved while the residual grows; if
Newton does not settle, the loads are brought up in steps. Stops on the step and on the residual,
so that what hangs behind an open diode is right too.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.csgraph import connected_components
from scipy.sparse.linalg import splu

from model.analysis.operating_point.elements import Array, Elements, Stamp
from model.analysis.operating_point.network import OPEN_S, Network

STEP_V, RESIDUAL_A = 1e-9, 1e-8
MOST_STEPS, MOST_HALVINGS, MOST_IDLE_STEPS = 80, 8, 20
NEARER = 0.999  # of the best residual so far counts as coming nearer
LOAD_STEPS = (0.05, 0.2, 0.4, 0.6, 0.8, 0.9, 1.0)


@dataclass(frozen=True, slots=True)
class Solution:
    """Volts of every node, how well they fit, and whether the method settled."""

    volts: Array
    residual_a: float
    steps: int
    settled: bool
    island: Array


def solve(network: Network, start_v: Array | None = None) -> Solution:
    """Return the operating point nearest to the start, the EMF side unless given."""
    island = islands(network)
    pinned = pins(network, island)
    elements = Elements(network)
    first = np.array(feeding_volts(network) if start_v is None else start_v, dtype=np.float64)
    first[pinned] = 0.0
    volts, residual, steps, settled = _newton(elements, first, pinned, island, 1.0)
    if not settled:
        volts = first
        for scale in LOAD_STEPS:
            volts, residual, more, settled = _newton(elements, volts, pinned, island, scale)
            steps += more
            if not settled:
                break
    if not settled:  # more is asked than can be given: only the collapsed answer exists
        nothing = np.zeros(network.nodes)
        volts, residual, more, settled = _newton(elements, nothing, pinned, island, 1.0)
        steps += more
    return Solution(volts, residual, steps, settled, island)


def solve_near(network: Network, near_v: Array | None) -> Solution:
    """Return the operating point from the volts of a state much like it, where that settles.

    Such volts come from the EMF side, so the same of several answers is found.
    """
    if near_v is not None and len(near_v) == network.nodes:
        found = _from(network, near_v)
        if found.settled:
            return found
    return solve(network)


def _from(network: Network, start_v: Array) -> Solution:
    island = islands(network)
    pinned = pins(network, island)
    first = start_v.copy()
    first[pinned] = 0.0
    volts, residual, steps, settled = _newton(Elements(network), first, pinned, island, 1.0)
    return Solution(volts, residual, steps, settled, island)


def islands(network: Network) -> Array:
    """Return the number of the island of each node: what any element joins is one island."""
    rows: list[int] = []
    columns: list[int] = []
    for sort, ends in (("resistors", ("a", "b")), ("batteries", ("minus", "plus")),
                       ("power_loads", ("a", "b")), ("current_loads", ("a", "b")),
                       ("diodes", ("a", "b")), ("supplies", ("minus", "plus")),
                       ("converters", ("in_minus", "in_plus")),
                       ("converters", ("out_minus", "out_plus"))):
        elements = getattr(network, sort)
        rows += getattr(elements, ends[0])
        columns += getattr(elements, ends[1])
    return _pieces(network.nodes, rows, columns)


def feeding_volts(network: Network) -> list[float]:
    """Return for every node the volts of a source that reaches it, and zero for the others.

    A constant-power load has two or three answers: only from the EMF side is the right one found.
    """
    r, d = network.resistors, network.diodes
    piece = _pieces(network.nodes, r.a + d.a, r.b + d.b).tolist()
    volts: dict[int, float] = {}
    for nodes, emf in ((network.batteries.plus, network.batteries.emf_v),
                       (network.supplies.plus, network.supplies.set_v),
                       (network.converters.out_plus, network.converters.set_v)):
        for node, own in zip(nodes, emf, strict=True):
            start = network.start_v[node] or own
            if start:
                volts.setdefault(piece[node], start)
    return [volts.get(number, 0.0) for number in piece]


def _pieces(nodes: int, a: list[int], b: list[int]) -> Array:
    """Return the number of the connected piece of each node, by pairs that are joined."""
    pairs = (np.asarray(a, dtype=np.int64), np.asarray(b, dtype=np.int64))
    matrix = csc_matrix((np.ones(len(a)), pairs), shape=(nodes, nodes))
    return connected_components(matrix, directed=False)[1]


def pins(network: Network, island: Array) -> Array:
    """Return one node of each island to hold at zero: a battery's or supply's minus, if any."""
    chosen: dict[int, int] = {}
    preferred = [*network.batteries.minus, *network.supplies.minus, *network.converters.out_minus]
    island_of = island.tolist()
    for node in [*preferred, *range(network.nodes)]:
        chosen.setdefault(island_of[node], node)
    return np.asarray(sorted(chosen.values()), dtype=np.int64)


def _newton(
    elements: Elements, start: Array, pinned: Array, island: Array, scale: float
) -> tuple[Array, float, int, bool]:
    volts = start.copy()
    free = np.ones(len(volts), dtype=bool)
    free[pinned] = False
    home = np.zeros(len(volts), dtype=np.int64)
    home[:] = pinned[island] if len(pinned) else 0
    stamp = elements.stamp(volts, scale)
    currents = _sums(stamp, volts, home)
    pattern = _Pattern(stamp, free)
    best, found_at = float("inf"), 0
    for step in range(1, MOST_STEPS + 1):
        change = pattern.direction(stamp, currents)
        if change is None:
            return volts, _largest(currents, free), step, False
        biggest = float(np.max(np.abs(change), initial=0.0))
        damping = elements.landing(volts, change)
        landing = damping < 1.0
        before = _largest(currents, free)
        for _ in range(MOST_HALVINGS):
            tried = volts + damping * change
            stamp = elements.stamp(tried, scale)
            currents = _sums(stamp, tried, home)
            if landing or _largest(currents, free) <= max(before, RESIDUAL_A):
                break
            damping /= 2
        volts = tried
        if _largest(currents, free) < NEARER * best:
            best, found_at = _largest(currents, free), step
        if step - found_at > MOST_IDLE_STEPS:  # going round in a circle
            return volts, _largest(currents, free), step, False
        if damping * biggest < STEP_V * max(1.0, float(np.max(np.abs(volts), initial=0.0))) and (
            _largest(currents, free) < _tolerance(stamp)
        ):
            return volts, _largest(currents, free), step, True
    return volts, _largest(currents, free), MOST_STEPS, False


def _tolerance(stamp: Stamp) -> float:
    """Return the residual that rounding leaves: relative to the largest current there is."""
    largest = max((float(np.max(np.abs(c), initial=0.0)) for c in stamp.currents), default=0.0)
    return RESIDUAL_A + 1e-10 * largest


def _largest(currents: Array, free: Array) -> float:
    return float(np.max(np.abs(currents[free]), initial=0.0))


def _sums(stamp: Stamp, volts: Array, home: Array) -> Array:
    """Return the current that leaves each node in sum; zero in a solution."""
    total: Array = OPEN_S * (volts - volts[home])
    return total + np.bincount(
        np.concatenate(stamp.nodes), np.concatenate(stamp.currents), len(volts))


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

    def direction(self, stamp: Stamp, currents: Array) -> Array | None:
        """Return Newton's step, or None when the matrix has no inverse."""
        change = np.zeros(len(self._free))
        if self._size == 0:
            return change
        slopes = np.concatenate([*stamp.values, np.full(len(self._free), OPEN_S)])[self._kept]
        self._matrix.data = np.bincount(self._cell, slopes, len(self._matrix.indices))
        try:
            solved: Any = factorised(self._matrix).solve(-currents[self._free])
        except RuntimeError:
            return None
        if not np.all(np.isfinite(solved)):
            return None
        change[self._free] = solved
        return change
