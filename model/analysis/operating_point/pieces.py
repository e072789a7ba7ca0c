"""What is joined to what in a network: the connected piece of each node, by number."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np

from model.analysis.operating_point.network import Network


def joined(pieces: list[int], pairs: Iterable[tuple[int, int]]) -> list[int]:
    """Return the pieces of the nodes when pairs of nodes are joined as well, from nought up."""
    onto = list(range(max(pieces, default=-1) + 1))
    for a, b in pairs:
        one, other = pieces[a], pieces[b]
        while onto[one] != one:
            onto[one] = one = onto[onto[one]]
        while onto[other] != other:
            onto[other] = other = onto[onto[other]]
        onto[max(one, other)] = min(one, other)  # so that what a piece is joined to comes before it
    ends: list[int] = []
    count = 0
    for piece, lower in enumerate(onto):
        if lower == piece:
            ends.append(count)
            count += 1
        else:
            ends.append(ends[lower])
    return [ends[piece] for piece in pieces]


def joined_before(network: Network) -> list[int]:
    """Return the pieces that were known when nodes and resistors were still fewer."""
    known = network.pieces
    new = range(max(known, default=-1) + 1, max(known, default=-1) + 1 + network.nodes - len(known))
    return [*known, *new]


def islands(network: Network) -> Any:
    """Return the number of the island of each node: what any element joins is one island."""
    n, first = network, network.pieced
    pairs = [*zip(n.resistors.a[first:], n.resistors.b[first:], strict=True)]
    for sort, one, other in (
        (n.batteries, "minus", "plus"), (n.supplies, "minus", "plus"), (n.diodes, "a", "b"),
        (n.power_loads, "a", "b"), (n.current_loads, "a", "b"),
        (n.converters, "in_minus", "in_plus"), (n.converters, "out_minus", "out_plus"),
    ):
        pairs += zip(getattr(sort, one), getattr(sort, other), strict=True)
    return np.asarray(joined(joined_before(network), pairs), dtype=np.int64)


def copper(network: Network, loads: Iterable[int]) -> list[int]:
    """Return the pieces that resistors join, those that stand for loads left out."""
    left_out, r, first = set(loads), network.resistors, network.pieced
    return joined(joined_before(network), (
        (r.a[n], r.b[n]) for n in range(first, len(r.a)) if n not in left_out))
