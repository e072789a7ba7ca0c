"""Solar strings side by side: arrays whose positives meet with no device between them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.reach import reach
from model.graph import Edge, TerminalGraph


@dataclass(frozen=True, slots=True)
class Strings:
    """Arrays joined side by side. `unfused_count` are strings with no fuse of their own,
    `all_count` counts those too of which it is not said (`unsaid`). Of the panels: short-circuit
    current of one string and the largest fuse a panel stands, the least of all, None unstated. [A].
    """

    arrays: tuple[str, ...]
    unfused_count: int
    all_count: int
    unsaid: tuple[str, ...]
    isc_a: float | None
    most_a: float | None

    @property
    def back_a(self) -> float | None:
        """Return what the other strings drive back through one. [A]."""
        return None if self.isc_a is None else (self.unfused_count - 1) * self.isc_a


def solar_strings(graph: TerminalGraph) -> Iterator[Strings]:
    """Yield each group of arrays whose positives are joined without a device."""
    arrays = [c.id for c in graph.diagram.components.values() if c.kind == "solar_array"]
    seen: set[str] = set()
    for item in sorted(arrays):
        if item not in seen:
            nodes = reach(graph, [graph.number[f"{item}.+"]], _joined)
            group = sorted(other for other in arrays if graph.number[f"{other}.+"] in nodes)
            seen.update(group)
            yield _strings(graph, tuple(group))


def _joined(edge: Edge, _node: int) -> bool:
    return edge.role in ("conductor", "join", "contact") and edge.core in ("", "+")


def _strings(graph: TerminalGraph, group: tuple[str, ...]) -> Strings:
    parts = {item: graph.diagram.components[item].parameters for item in group}
    unfused = total = 0
    unsaid = []
    for item, p in parts.items():
        count, fuses = p.get("parallel_count", 1), p.get("string_fuses")
        total += count
        if count > 1 and fuses is None:
            unsaid.append(item)
        elif fuses != "each":
            unfused += count
    currents = [p["panel_isc_a"] for p in parts.values() if "panel_isc_a" in p]
    limits = [p["max_series_fuse_a"] for p in parts.values() if "max_series_fuse_a" in p]
    return Strings(group, unfused, total, tuple(unsaid), max(currents, default=None),
                   min(limits, default=None))
