"""The state in which a network is solved: switches, sources, what is away, what loads draw."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from model.graph import Edge, TerminalGraph


@dataclass(frozen=True, slots=True)
class Problem:
    """Something that could not be told, was assumed, or is wrong; with ids and a sentence."""

    kind: str
    ids: tuple[str, ...]
    sentence: str


@dataclass(slots=True)
class State:
    """What stands how. `automatic` are relays and converters that volts decide: id -> on.

    `fault` joins two terminals by nothing (the second None: the return at the first's place).
    `tail_charge` lets banks take only what a nearly full one takes. `spent` are batteries too flat
    to give anything; what is joined at their posts stays joined.
    """

    positions: Mapping[str, str] = field(default_factory=dict)
    sources: frozenset[str] = frozenset()
    absent: frozenset[str] = frozenset()
    load_a: Mapping[str, float] = field(default_factory=dict)
    charge: Mapping[str, float] = field(default_factory=dict)
    automatic: dict[str, bool] = field(default_factory=dict)
    live_ac: frozenset[str] = frozenset()
    sun: float = 1.0
    wind_mps: float | None = None
    copper_c: float = 20.0
    short_time_loads: frozenset[str] = frozenset()
    contact_ohm: float = 1e-5
    loads_run: bool = True
    fault: tuple[int, int | None] | None = None
    tail_charge: bool = False
    spent: frozenset[str] = frozenset()

    def is_closed(self, graph: TerminalGraph, edge: Edge) -> bool:
        """Say whether a contact conducts: as its switch stands, or as the volts decide."""
        decided = self.automatic.get(edge.owner)
        if decided is not None and edge.handle not in self.positions:
            return decided
        return graph.is_closed(edge, self.positions)

    def charge_of(self, battery: str, usual: float) -> float:
        """Return a battery's state of charge, from 0 to 1."""
        return self.charge.get(battery, usual)
