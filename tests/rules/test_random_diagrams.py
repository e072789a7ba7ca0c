"""No check crashes on any diagram that can be drawn, and none depends on the order of things."""

from __future__ import annotations

import random

import pytest

from model.diagram import Diagram
from rules.engine import check
from tests.model.random_diagrams import grown


@pytest.mark.parametrize("seed", range(60))
def test_no_rule_crashes_on_a_random_diagram(seed: int) -> None:
    rng = random.Random(seed)
    diagram, _ = grown(rng, 90)
    for rule_set in ("us", "iso"):
        assert check(diagram, rule_set, strict=True) is not None


@pytest.mark.parametrize("seed", [1574, 2766, 4216, 5271, 42296])
def test_no_rule_crashes_where_a_battery_stands_on_an_alternating_wire(seed: int) -> None:
    rng = random.Random(seed)
    diagram, _ = grown(rng, rng.choice((40, 90, 160)))
    assert check(diagram, strict=True) is not None


def reordered(diagram: Diagram, rng: random.Random) -> Diagram:
    mixed = {}
    for name in ("components", "conductors"):
        items = list(getattr(diagram, name).items())
        rng.shuffle(items)
        mixed[name] = dict(items)
    return Diagram.read({**dict(diagram), **mixed})


@pytest.mark.parametrize("seed", range(12))
def test_the_order_of_the_collections_does_not_matter(seed: int) -> None:
    rng = random.Random(seed)
    diagram, _ = grown(rng, 90)
    one = check(diagram, "us", strict=True)
    other = check(reordered(diagram, rng), "us", strict=True)
    assert one is not None
    assert other is not None
    assert [(f.rule, f.where[0], f.severity) for f in one.findings] == (
        [(f.rule, f.where[0], f.severity) for f in other.findings])
