"""Branches of a bar in two tiers, where one row of them would be too wide for any paper."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import networkx as nx

from app.drawing.placing import PlacedPart
from app.drawing.tidy.standing import Line, is_bar
from model.kinds import kind_of

TIER_ROWS = 2  # a device and its load
MOST_PARTS = 3  # what is still a branch


def lowered(
    parts: Mapping[str, PlacedPart], lines: Sequence[Line], tiers: int
) -> dict[tuple[str, str], int]:
    """Return, by bar and first part of a branch, how many rows lower the branch hangs."""
    if tiers == 1:
        return {}
    found = {}
    branches = _branches(parts, lines)
    for bar in (item for item, part in parts.items() if is_bar(part.component)):
        own = [first for first in _neighbours(bar, lines) if first in branches]
        for k, first in enumerate(own):
            if k % tiers:
                found[(bar, first)] = TIER_ROWS * (k % tiers)
    return found


def stacked(
    rows: Mapping[str, int], depth: Mapping[str, int], lines: Iterable[Line], most_rows: int
) -> dict[str, int]:
    """Return the rows with circuits that nothing joins under one another, where that fits."""
    graph = nx.Graph()
    graph.add_nodes_from(rows)
    graph.add_edges_from((a, b) for line in lines for (a, _), (b, _) in [line.ends])
    found: dict[str, int] = {}
    below = 0
    for circuit in sorted(nx.connected_components(graph), key=lambda c: (-len(c), min(c))):
        first = min(rows[item] for item in circuit)
        high = max(rows[item] + depth[item] for item in circuit) - first
        start = below if below + high <= most_rows else 0
        found.update({item: rows[item] - first + start for item in circuit})
        below = max(below, start + high)
    return found


def _branches(parts: Mapping[str, PlacedPart], lines: Sequence[Line]) -> set[str]:
    """Return the parts of small branches: those that hang on bars and end in a load."""
    graph = nx.Graph()
    graph.add_nodes_from(item for item, part in parts.items() if not is_bar(part.component))
    graph.add_edges_from((a, b) for line in lines for (a, _), (b, _) in [line.ends]
                         if a in graph and b in graph)
    small = (branch for branch in nx.connected_components(graph) if len(branch) <= MOST_PARTS)
    return {item for branch in small for item in branch
            if any(kind_of(parts[one].component).role == "load" for one in branch)}


def _neighbours(bar: str, lines: Iterable[Line]) -> list[str]:
    found = []
    for line in lines:
        for one, other in (line.ends, line.ends[::-1]):
            if one[0] == bar and not line.negative and other[0] not in found:
                found.append(other[0])
    return found
