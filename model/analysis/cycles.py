"""Bridges and blocks of a multigraph, edge by edge: parallel cables count as a ring.

Own passes over integers (Tarjan's low-link, iterative): several library functions refuse or
mishandle parallel edges.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

Neighbours = Callable[[int], Iterable[tuple[int, int]]]


def blocks(nodes: Iterable[int], neighbours: Neighbours) -> list[set[int]]:
    """Return the biconnected components as sets of edge numbers.

    `neighbours(node)` yields (edge, other node). An edge that is a block by itself is a bridge.
    """
    order: dict[int, int] = {}
    low: dict[int, int] = {}
    found: list[set[int]] = []
    for root in nodes:
        if root not in order:
            _visit(root, neighbours, order, low, found)
    return found


def _visit(
    root: int, neighbours: Neighbours, order: dict[int, int], low: dict[int, int],
    found: list[set[int]],
) -> None:
    order[root] = low[root] = len(order)
    edge_stack: list[int] = []
    stack = [(root, -1, iter(list(neighbours(root))))]
    while stack:
        node, via, ways = stack[-1]
        step = next(ways, None)
        if step is None:
            stack.pop()
            if stack:
                _close(stack[-1][0], node, via, order, low, edge_stack, found)
            continue
        edge, after = step
        if edge == via:
            continue
        if after not in order:
            edge_stack.append(edge)
            order[after] = low[after] = len(order)
            stack.append((after, edge, iter(list(neighbours(after)))))
        elif order[after] < order[node]:
            edge_stack.append(edge)
            low[node] = min(low[node], order[after])


def _close(
    parent: int, node: int, via: int, order: dict[int, int], low: dict[int, int],
    edge_stack: list[int], found: list[set[int]],
) -> None:
    low[parent] = min(low[parent], low[node])
    if low[node] >= order[parent]:
        block: set[int] = set()
        while edge_stack:
            edge = edge_stack.pop()
            block.add(edge)
            if edge == via:
                break
        found.append(block)
