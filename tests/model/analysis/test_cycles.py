"""Blocks of a multigraph against networkx, parallel edges included."""

from __future__ import annotations

import random

import networkx
import pytest

from model.analysis.cycles import blocks


@pytest.mark.parametrize("seed", range(150))
def test_blocks_agree_with_networkx_on_random_multigraphs(seed: int):
    """networkx finds blocks of simple graphs: each edge is halved by a node of its own first."""
    rng = random.Random(seed)
    nodes = rng.randint(2, 12)
    edges = [(rng.randrange(nodes), rng.randrange(nodes)) for _ in range(rng.randint(1, 20))]
    edges = [(a, b) for a, b in edges if a != b]

    def neighbours(node: int):
        for number, (a, b) in enumerate(edges):
            if node in (a, b):
                yield number, b if node == a else a

    found = {frozenset(block) for block in blocks(range(nodes), neighbours)}
    halved = networkx.Graph()
    for number, (a, b) in enumerate(edges):
        halved.add_edge(a, f"e{number}")
        halved.add_edge(f"e{number}", b)
    expected = set()
    for component in networkx.biconnected_components(halved):
        inner = {n for n in component if isinstance(n, str)}
        whole = {int(n[1:]) for n in inner if set(edges[int(n[1:])]) <= component}
        if len(whole) > 1:
            expected.add(frozenset(whole))
    assert {block for block in found if len(block) > 1} == expected
    assert {edge for block in found for edge in block} == set(range(len(edges)))
