"""Every way the questions can be answered, numbered, so that any share of them can be walked.

What is not asked after other answers is settled, so that no boat is counted twice by it. The
length is no choice: three boats stand for the small, the usual and the large.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator
from typing import Any

from msgspec.structs import replace

from app.new_boat.answers import QUESTIONS, Answers

LENGTHS_M = (6.0, 11.0, 16.0)
AXES: dict[str, tuple[Any, ...]] = {
    **{q.key: tuple(choice.value for choice in q.choices) for q in QUESTIONS if q.choices},
    "length_m": LENGTHS_M,
}


def every_boat() -> Iterator[Answers]:
    """Yield each boat the questions allow, once."""
    for values in itertools.product(*AXES.values()):
        answers = replace(Answers(), **dict(zip(AXES, values, strict=True)))
        if answers == answers.settled():
            yield answers


def random_boats(count: int, seed: int) -> Iterator[Answers]:
    """Yield boats answered at random, the same for the same seed."""
    chosen = random.Random(seed)
    for _ in range(count):
        yield replace(Answers(), **{key: chosen.choice(values) for key, values in AXES.items()})


def all_pairs(seed: int = 1) -> Iterator[Answers]:
    """Yield boats in which any two answers to any two questions come together at least once.

    Greedy: of some random boats the one with most new pairs is taken; a boat is made for each pair
    that is left over.
    """
    chosen = random.Random(seed)
    wanted = {((a, x), (b, y)) for a, b in itertools.combinations(AXES, 2)
              for x in AXES[a] for y in AXES[b]}
    while wanted:
        (a, x), (b, y) = min(wanted, key=repr)
        tries = [{**{key: chosen.choice(values) for key, values in AXES.items()}, a: x, b: y}
                 for _ in range(30)]
        best = max(tries, key=lambda one: len(_pairs(one) & wanted))
        wanted -= _pairs(best)
        yield replace(Answers(), **best)


def _pairs(values: dict[str, Any]) -> set[tuple[tuple[str, Any], tuple[str, Any]]]:
    return {((a, values[a]), (b, values[b])) for a, b in itertools.combinations(AXES, 2)}
