"""Lugs: the conductor ends that share one stud, screw or post.

Terminals that one part leads to several bolts, as an engine block does, count by bolt. A conductor
that stands for parallel cables has a lug for each.
"""

from __future__ import annotations

from msgspec import Struct

from model.diagram import Conductor, End
from model.graph import TerminalGraph
from model.units import area_mm2


class Lug(Struct, frozen=True):
    """One conductor's end on a bolt, and at which of its two ends ("start" or "finish")."""

    conductor: Conductor
    side: str

    @property
    def end(self) -> End:
        """Return the end's record."""
        return self.conductor.start if self.side == "start" else self.conductor.finish

    @property
    def area_mm2(self) -> float:
        """Return the copper of one cable, 0 when its size is not recorded. [mm2]"""
        size = self.conductor.size
        return 0.0 if size is None else area_mm2(size.standard, size.text)


class Bolt(Struct, frozen=True):
    """A stud, screw or post ("X1.s1", "G1.+") with the lugs on it and the terminal it is."""

    name: str
    component: str
    node: int
    lugs: tuple[Lug, ...]

    @property
    def count(self) -> int:
        """Return how many lugs are on it."""
        return sum(lug.conductor.parallel_count or 1 for lug in self.lugs)


def bolts(graph: TerminalGraph) -> tuple[Bolt, ...]:
    """Return the bolts on which anything ends."""
    found: dict[str, tuple[int, dict[str, Lug]]] = {}
    for edge in graph.edges:
        if edge.role != "conductor":
            continue
        wire = graph.diagram.conductors[edge.owner]
        for node, side, end in ((edge.a, "start", wire.start), (edge.b, "finish", wire.finish)):
            by_bolt = graph.kinds[end.component].role == "engine"
            name = f"{end.component}.{end.terminal}" if by_bolt else graph.names[node]
            found.setdefault(name, (node, {}))[1][f"{wire.id} {side}"] = Lug(wire, side)
    return tuple(Bolt(name, graph.component_of[node], node, tuple(lugs.values()))
                 for name, (node, lugs) in found.items())

