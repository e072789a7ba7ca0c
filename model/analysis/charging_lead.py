"""What a charging current loses between its source and a battery: copper alone, out and back."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf

from model.analysis.operating_point.returns import NO_TWIN
from model.analysis.reach import came_from, way_back
from model.diagram import Conductor
from model.graph import Edge, TerminalGraph
from model.tables import resistance_ohm_per_km

Strands = tuple[Conductor, ...]
"""Conductors side by side, from terminal to terminal."""


@dataclass(frozen=True, slots=True)
class LeadOhm:
    """Resistance of a way [ohm]. `missing` are fields without which it is only known to be as much;
    `shares` are the conductors with what each adds.
    """

    ohm: float
    missing: tuple[str, ...]
    shares: tuple[tuple[str, float], ...]

    @property
    def culprit(self) -> str:
        """Return the conductor that adds most, "" when none adds anything."""
        return max(self.shares, key=lambda share: (share[1], share[0]), default=("", 0.0))[0]


def out_ohm(graph: TerminalGraph, way: Iterable[Edge]) -> LeadOhm:
    """Return what the conductors of a way have one way."""
    return _summed(_wires(graph, way))


def out_and_back_ohm(graph: TerminalGraph, way: tuple[Edge, ...], battery: str) -> LeadOhm:
    """Return what a way has with its return: as it is drawn, else as long and thick as the feed."""
    source = graph.component_of[_start(graph, way)]
    wires = _wires(graph, way)
    home = _way_home(graph, source, battery)
    back = _wires(graph, home) if home is not None else [
        strands for strands in wires if strands[0].purpose not in NO_TWIN]
    return _summed([*wires, *back])


def _start(graph: TerminalGraph, way: tuple[Edge, ...]) -> int:
    """Return the terminal a way begins at: the one its second edge does not touch."""
    first = way[0]
    onward = {way[1].a, way[1].b} if len(way) > 1 else {first.b}
    return first.b if first.a in onward else first.a


def _way_home(graph: TerminalGraph, source: str, battery: str) -> tuple[Edge, ...] | None:
    """Return the drawn negatives from a source to a battery, None when they are not drawn."""
    starts = [graph.number[name] for name in (f"{source}.-", f"{source}.out-")
              if name in graph.number]
    came = came_from(graph, starts, lambda edge, _: edge.role in ("join", "contact", "overcurrent")
                     or (edge.role == "conductor" and edge.core == "-"))
    goal = graph.number[f"{battery}.-"]
    return way_back(came, goal) if goal in came else None


def _wires(graph: TerminalGraph, way: Iterable[Edge]) -> list[Strands]:
    return [_beside(graph, edge) for edge in way if edge.role == "conductor"]


def _beside(graph: TerminalGraph, edge: Edge) -> Strands:
    """Return the conductors that join the same two terminals, the edge's own first."""
    others = sorted({graph.edges[i].owner for i in graph.edges_at[edge.a]
                     if graph.edges[i].role == "conductor" and graph.edges[i].owner != edge.owner
                     and graph.edges[i].other(edge.a) == edge.b})
    return tuple(graph.diagram.conductors[item] for item in (edge.owner, *others))


def _summed(wires: list[Strands]) -> LeadOhm:
    missing: dict[str, None] = {}
    shares: dict[str, float] = {}
    for strands in wires:
        missing.update(dict.fromkeys(
            f"{wire.id}.{name}" for wire in strands for name in ("length_m", "size")
            if getattr(wire, name) is None))
        ohms = [_ohm(wire) for wire in strands]
        if None not in ohms:
            siemens = sum(1 / ohm if ohm else inf for ohm in ohms if ohm is not None)
            first = strands[0].id
            shares[first] = shares.get(first, 0.0) + 1 / siemens
    return LeadOhm(sum(shares.values()), tuple(missing), tuple(shares.items()))


def _ohm(wire: Conductor) -> float | None:
    """Return the resistance of a conductor; None when size or length is not stated. [ohm]"""
    if wire.size is None or wire.length_m is None:
        return None
    per_km = resistance_ohm_per_km(wire.size, 20.0, wire.tinned is True).value
    return per_km * wire.length_m / 1000 / (wire.parallel_count or 1)
