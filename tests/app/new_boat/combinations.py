"""Every way the questions can be answered, numbered, so that any share of them can be walked.

What is not asked after other answers is settled, so that no boat is counted twice by it. The
length is no choice: three boats stand for the small, the usual and the large.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator
from functools import cache
from typing import Any

from msgspec.structs import replace

from app.new_boat.answers import QUESTIONS, Answers

LENGTHS_M = (6.0, 11.0, 16.0)
AXES: dict[str, tuple[Any, ...]] = {
    **{q.key: tuple(choice.value for choice in q.choices) for q in QUESTIONS if q.choices},
    "length_m": LENGTHS_M,
}
# What settles other answers or is settled by them; the other axes are free.
BOUND = ("engines", "fuel", "start_v", "solar", "wind", "shore_v", "shore_unit", "windlass",
         "thruster", "bow_bank", "inverter")
FREE = tuple(name for name in AXES if name not in BOUND)


@cache
def settled_answers() -> tuple[tuple[Any, ...], ...]:
    """Return every settled way to answer what is bound."""
    answered = (boat_with(BOUND, values).settled()
                for values in itertools.product(*(AXES[name] for name in BOUND)))
    return tuple(dict.fromkeys(tuple(getattr(one, name) for name in BOUND) for one in answered))


def boat_with(names: tuple[str, ...], values: tuple[Any, ...]) -> Answers:
    """Return the usual boat with some questions answered otherwise."""
    return replace(Answers(), **dict(zip(names, values, strict=True)))


def every_boat() -> Iterator[Answers]:
    """Yield each boat the questions allow, once."""
    for bound in settled_answers():
        for free in itertools.product(*(AXES[name] for name in FREE)):
            yield boat_with(BOUND + FREE, bound + free)


def random_boats(count: int, seed: int) -> Iterator[Answers]:
    """Yield boats answered at random, the same for the same seed."""
    chosen = random.Random(seed)
    for _ in range(count):
        yield replace(Answers(), **{key: chosen.choice(values) for key, values in AXES.items()})
