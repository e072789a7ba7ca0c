"""Faults at many terminals of one drawing: two linear networks, each factored once.

Gives the figures of `fault_current` for every device and load without solving each anew. What is
not linear is left out: a way over a diode carries no fault here, and running sources none.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np
from scipy.sparse import csc_matrix

from model.analysis.battery_model import resistance_ohm
from model.analysis.fault_current import COLD_C, CONTACT_OHM, FULL, HALF_CHARGED, HOT_C
from model.analysis.fault_margins import ON_THE_WAY
from model.analysis.operating_point.automatic import Automatic
from model.analysis.operating_point.build import Built, build
from model.analysis.operating_point.network import JOINT_S, OPEN_S
from model.analysis.operating_point.pieces import islands
from model.analysis.operating_point.solver import factorised, pins
from model.analysis.operating_point.state import State

if TYPE_CHECKING:
    from model.survey import Survey

# Contacts that stand open until something runs: a short behind them comes when it does.
WORKED = frozenset(
    {"float_switch", "reversing_contactor", "push_button", "motor_controller"})


@dataclass(frozen=True, slots=True)
class Fault:
    """A dead short at a terminal: its whole current [A] and the volts of all nodes during it."""

    current_a: float
    volts: Any


class FaultNetwork:
    """The network of one case, strong or weak, from which any short is read."""

    def __init__(self, survey: Survey, state: State) -> None:
        self._graph = survey.graph
        state.automatic = dict(Automatic(self._graph, state).on)
        self._built = build(self._graph, state, [p.nominal_v or 0.0 for p in survey.potentials])
        self._faults: dict[int, Fault] = {}
        self._factor(self._built)

    def _factor(self, built: Built) -> None:
        network = built.network
        r, b = network.resistors, network.batteries
        first = np.asarray(r.a + b.minus, dtype=np.int64)
        second = np.asarray(r.b + b.plus, dtype=np.int64)
        g = np.asarray(r.g_s + b.g_s, dtype=np.float64)
        count = network.nodes
        self._free = np.ones(count, dtype=bool)
        self._free[pins(network, islands(network))] = False
        self._place = np.cumsum(self._free) - 1
        every = np.arange(count)
        rows = np.concatenate([first, second, first, second, every])
        columns = np.concatenate([first, second, second, first, every])
        values = np.concatenate([g, g, -g, -g, np.full(count, OPEN_S)])
        kept = self._free[rows] & self._free[columns]
        size = int(self._free.sum())
        matrix = csc_matrix(
            (values[kept], (self._place[rows[kept]], self._place[columns[kept]])),
            shape=(size, size))
        self._solver = factorised(matrix) if size else None
        given = np.zeros(count)
        for minus, plus, emf, own_g in zip(b.minus, b.plus, b.emf_v, b.g_s, strict=True):
            given[plus] += emf * own_g
            given[minus] -= emf * own_g
        self._rest_v = self._solved(given)

    def _solved(self, given: Any) -> Any:
        volts = np.zeros(given.shape)
        if self._solver is not None:
            volts[self._free] = self._solver.solve(given[self._free])
        return volts

    def fault(self, node: int) -> Fault:
        """Return the short between a terminal and its return: its part's own, else the datum."""
        if node not in self._faults:
            self.short(node)
        return self._faults[node]

    def short(self, *nodes: int) -> None:
        """Work out the shorts at some terminals, which takes less together than one by one."""
        backs = {node: self._return_of(node) for node in nodes if node not in self._faults}
        self._faults.update((node, Fault(0.0, self._rest_v)) for node in backs)
        pairs = [(node, back) for node, back in backs.items() if back not in (None, node)]
        if not pairs:
            return
        ends, returns = np.asarray(pairs, dtype=np.int64).T
        each = np.arange(len(pairs))
        unit = np.zeros((len(self._rest_v), len(pairs)))
        unit[ends, each], unit[returns, each] = 1.0, -1.0
        answer = self._solved(unit)
        loop_ohm = answer[ends, each] - answer[returns, each] + 1 / JOINT_S
        current_a = (self._rest_v[ends] - self._rest_v[returns]) / loop_ohm
        volts = (self._rest_v[:, None] - answer * current_a).T.copy()
        self._faults.update((node, Fault(abs(a), own)) for (node, _), a, own in zip(
            pairs, current_a.tolist(), volts, strict=True))

    def _return_of(self, node: int) -> int | None:
        graph, part = self._graph, self._graph.component_of[node]
        own = graph.number.get(f"{part}.-", self._built.shadow.get(part))
        if own is not None:
            return own
        for system in graph.diagram.systems.values():
            datum = graph.number.get(system.negative_datum or "")
            if datum is not None:
                return datum
        minuses = self._built.network.batteries.minus
        return minuses[0] if minuses else None

    def through_a(self, edge: int, node: int) -> float:
        """Return the current of an edge, by number, during a short at a terminal. [A]."""
        sort, place = self._built.edge_element.get(edge, ("", 0))
        if sort != "resistors":
            return 0.0
        r, volts = self._built.network.resistors, self.fault(node).volts
        return abs(float(volts[r.a[place]] - volts[r.b[place]])) * r.g_s[place]

    def unstated(self, edge: int, node: int) -> tuple[str, ...]:
        """Return the lengths and sizes not stated of conductors that carry a short's current."""
        least_a = ON_THE_WAY * self.fault(node).current_a
        found = [
            f"{wire}.{name}" for wire, name in self._not_stated if any(
                core.core == "+" and self.through_a(core.index, node) > least_a
                for core in self._graph.edges_of.get(wire, ()))]
        return tuple(found) if self.through_a(edge, node) > least_a else ()

    @cached_property
    def _not_stated(self) -> list[tuple[str, str]]:
        """Return the conductors of unknown length or size, with what is unknown of each."""
        return [(wire.id, name) for wire in self._graph.diagram.conductors.values()
                for name in ("length_m", "size") if getattr(wire, name) is None]


@dataclass(frozen=True, slots=True)
class FaultTable:
    """The largest faults, which a device must break, and the smallest, which must trip it."""

    strong: FaultNetwork
    weak: FaultNetwork
    resistances: Mapping[str, str]

    def unstated(self, batteries: Iterable[str], edge: int, node: int) -> tuple[str, ...]:
        """Return the fields without which a short's current cannot be told: what is not known of
        the batteries, and lengths and sizes of the conductors it goes through.
        """
        banks = [f"{b}.capacity_ah" for b in batteries if self.resistances[b] == "unknown"]
        return (*banks, *self.strong.unstated(edge, node))

    def guessed(self, batteries: Iterable[str]) -> list[str]:
        """Return the batteries whose resistance is taken from chemistry and capacity."""
        return [b for b in batteries if self.resistances[b] == "chemistry and capacity"]


def fault_table(survey: Survey) -> FaultTable:
    """Return the two networks of a drawing: strong with cold copper, weak with hot copper."""
    items = survey.diagram.components
    working = {c.id: "on" for c in items.values() if c.kind in WORKED}
    strong = State(working, charge=dict.fromkeys(items, FULL), copper_c=COLD_C, loads_run=False)
    weak = State(working, charge=dict.fromkeys(items, HALF_CHARGED), copper_c=HOT_C,
                 contact_ohm=CONTACT_OHM, loads_run=False)
    resistances = {c.id: resistance_ohm(c.parameters).basis
                   for c in items.values() if c.kind == "battery_bank"}
    return FaultTable(FaultNetwork(survey, strong), FaultNetwork(survey, weak), resistances)
