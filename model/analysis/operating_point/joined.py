"""What copper joins that must not be joined: the two poles of a battery, or unequal banks.

Found from what is joined, not from volts that sag: a starter that cranks is no short circuit, and
a short through a long thin lead is one.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import dijkstra

from model.analysis.operating_point.pieces import copper
from model.graph import TerminalGraph

if TYPE_CHECKING:
    from model.analysis.operating_point.build import Built

# Of the loop's largest EMF: more than charge alone makes between lead banks (ocv_soc.csv). An empty
# lithium bank beside a full one counts as unequal.
UNEQUAL_SHARE = 0.15


@dataclass(frozen=True, slots=True)
class _Loop:
    """Batteries that copper joins into a loop, and what their EMFs leave over. [V]."""

    batteries: tuple[int, ...]
    over_v: float


def find_joined(graph: TerminalGraph, built: Built, battery_a: Any) -> None:
    """Note short circuits and unequal banks; `battery_a` by battery, out of its plus."""
    ways = _Copper(graph, built)
    for loop in _loops(built, ways.group):
        largest = max(abs(built.network.batteries.emf_v[n]) for n in loop.batteries)
        unequal = abs(loop.over_v) > UNEQUAL_SHARE * largest
        takers = [n for n in loop.batteries if battery_a[n] < -1e-6]
        if takers:
            _note_tie(built, loop, battery_a, min(takers, key=lambda n: battery_a[n]), unequal)
        elif unequal and largest:
            for number in loop.batteries:
                _note_short(built, ways, loop, number, float(battery_a[number]))


def _note_tie(built: Built, loop: _Loop, battery_a: Any, taker: int, unequal: bool) -> None:
    taken = -float(battery_a[taker])
    donors = [n for n in loop.batteries if battery_a[n] > 1e-6]
    fills = taken >= 0.999 * built.network.batteries.accepts_a[taker] and any(
        battery_a[n] > 0.5 * taken for n in donors)
    if not donors or not (unequal or fills):
        return
    names = _names(built)
    givers = sorted({names[n] for n in donors})
    built.problem("tied", f"unequal banks are joined: {names[taker]} takes {taken:.0f} A from "
                  f"{', '.join(givers)}", names[taker], *givers)


def _note_short(
    built: Built, ways: _Copper, loop: _Loop, number: int, current_a: float
) -> None:
    b = built.network.batteries
    wires: dict[str, None] = {}
    for n in loop.batteries:
        poles = (b.plus[n], b.minus[n])
        for other in loop.batteries:
            for start in poles:
                for finish in (b.plus[other], b.minus[other]):
                    if start != finish and (n != other or len(loop.batteries) == 1):
                        wires.update(dict.fromkeys(ways.way(start, finish)))
    item = _names(built)[number]
    through = ", ".join(wires) or "its own terminals"
    built.problem("short", f"short circuit through {through}: {item} drives {current_a:.0f} A",
                  item, *wires)


def _names(built: Built) -> dict[int, str]:
    return {number: item for item, numbers in built.battery_links.items() for number in numbers}


class _Copper:
    """Conductors, contacts and joins without the loads: groups of nodes, and ways through them."""

    def __init__(self, graph: TerminalGraph, built: Built) -> None:
        self._graph, self._built = graph, built
        self._loads = {place for sort, place in built.loads.values() if sort == "resistors"}
        self.group = copper(built.network, self._loads)

    def way(self, start: int, finish: int) -> list[str]:
        """Return the conductors of the way of least resistance, in their order."""
        if self.group[start] != self.group[finish]:
            return []
        least: dict[tuple[int, int], tuple[float, int]] = {}
        r = self._built.network.resistors
        for number, (a, b, g_s) in enumerate(zip(r.a, r.b, r.g_s, strict=True)):
            if number not in self._loads:
                pair = (min(a, b), max(a, b))
                least[pair] = min(least.get(pair, (math.inf, -1)), (1 / g_s, number))
        nodes = self._built.network.nodes
        matrix = csr_matrix(([ohm for ohm, _ in least.values()],
                             ([a for a, _ in least], [b for _, b in least])), shape=(nodes, nodes))
        before = dijkstra(matrix, directed=False, indices=start, return_predecessors=True)[1]
        owners = self._owners()
        wires: dict[str, None] = {}
        node = finish
        while node != start:
            previous = int(before[node])
            wire = owners.get(least[(min(node, previous), max(node, previous))][1])
            if wire is not None:
                wires[wire] = None
            node = previous
        return list(wires)[::-1]

    def _owners(self) -> Mapping[int, str]:
        """Return the conductor of each resistor that is one, or the twin of one."""
        owners = {place: wire for wire, places in self._built.returns.items() for place in places}
        for number, (sort, place) in self._built.edge_element.items():
            edge = self._graph.edges[number]
            if sort == "resistors" and edge.role == "conductor":
                owners[place] = edge.owner
        return owners


def _loops(built: Built, group: list[int]) -> list[_Loop]:
    """Return the loops that batteries close over groups of nodes joined by copper."""
    b = built.network.batteries
    at: dict[int, list[int]] = {}
    ends = [(group[m], group[p]) for m, p in zip(b.minus, b.plus, strict=True)]
    for number, pair in enumerate(ends):
        for place in pair:
            at.setdefault(place, []).append(number)
    potential: dict[int, float] = {}
    came: dict[int, tuple[int, int]] = {}
    tree: set[int] = set()
    for first in at:
        if first in potential:
            continue
        potential[first] = 0.0
        queue = deque([first])
        while queue:
            here = queue.popleft()
            for number in at[here]:
                low, high = ends[number]
                there = high if here == low else low
                if there not in potential:
                    potential[there] = potential[here] + b.emf_v[number] * (
                        1 if here == low else -1)
                    came[there] = (here, number)
                    tree.add(number)
                    queue.append(there)
    return [
        _Loop(tuple(sorted({number, *(_up(came, low) ^ _up(came, high))})),
              potential[high] - potential[low] - b.emf_v[number])
        for number, (low, high) in enumerate(ends) if number not in tree]


def _up(came: Mapping[int, tuple[int, int]], place: int) -> set[int]:
    """Return the batteries on the way from a group to the root of its tree."""
    found = set()
    while place in came:
        place, number = came[place]
        found.add(number)
    return found
