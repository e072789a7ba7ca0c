"""Batteries side by side with no device between them: posts joined by links of one bank."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.graph import TerminalGraph
from model.kinds.storage import LITHIUM

if TYPE_CHECKING:
    from model.analysis.leads import Zone



@dataclass(frozen=True, slots=True)
class SideBySide:
    """Batteries in parallel: how many blocks or strings have no device of their own.

    `unsaid` are those drawn as one part of which it is not said, `chemistry` None when mixed or
    not stated.
    """

    batteries: tuple[str, ...]
    unfused_count: int
    unsaid: tuple[str, ...]
    chemistry: str | None

    @property
    def is_lithium(self) -> bool:
        """Say whether these are lithium batteries."""
        return self.chemistry in LITHIUM


def side_by_side(graph: TerminalGraph, zones: Mapping[str, Zone]) -> tuple[SideBySide, ...]:
    """Return the groups of batteries whose positive posts are joined without a device."""
    groups: list[list[str]] = []
    for battery, zone in zones.items():
        own = next((group for group in groups
                    if graph.number[f"{group[0]}.+"] in zone.posts), None)
        if own is None:
            groups.append([battery])
        else:
            own.append(battery)
    return tuple(_group(graph, sorted(group)) for group in groups)


def _group(graph: TerminalGraph, group: list[str]) -> SideBySide:
    count, unsaid, kinds = 0, [], set()
    for battery in group:
        p = graph.diagram.components[battery].parameters
        strings, fuses = p.get("parallel_count", 1), p.get("block_fuses")
        kinds.add(p.get("chemistry"))
        if strings > 1 and fuses is None:
            unsaid.append(battery)
        elif fuses != "each":
            count += strings
    return SideBySide(tuple(group), count, tuple(unsaid),
                      kinds.pop() if len(kinds) == 1 else None)
