"""How many mutants of each rule are told apart, and which survive without a reason."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from rules.book import BookRule
from tests.mutation.mutants import mutants
from tests.mutation.verdicts import is_killed

SURVIVORS = Path(__file__).parent / "survivors.toml"


@dataclass(frozen=True)
class Score:
    """A rule's mutants: how many, and the names of those that survive, excused ones apart."""

    rule: str
    count: int
    survivors: tuple[str, ...]
    excused: tuple[str, ...]


@cache
def reasons() -> Mapping[str, Mapping[str, str]]:
    """Return by rule why a mutant may survive: it is the same rule in other words, for example."""
    return tomllib.loads(SURVIVORS.read_text(encoding="utf-8"))


def score(rule: BookRule) -> Score:
    """Return how a rule's cases do."""
    slug = rule.record.slug
    every = list(mutants(rule))
    alive = [mutant.name for mutant in every if not is_killed(mutant)]
    known = reasons().get(slug, {})
    return Score(slug, len(every), tuple(name for name in alive if name not in known),
                 tuple(name for name in alive if name in known))


def scores(rules: Iterable[BookRule]) -> list[Score]:
    """Return the scores of rules."""
    return [score(rule) for rule in rules]


def share_killed(found: Iterable[Score]) -> float:
    """Return the share of mutants told apart. [unitless]."""
    listed = list(found)
    count = sum(one.count for one in listed)
    alive = sum(len(one.survivors) + len(one.excused) for one in listed)
    return 1.0 if count == 0 else 1 - alive / count


def told(found: list[Score]) -> str:
    """Return scores as lines: survivors first, then the sum."""
    lines = []
    for one in found:
        alive = len(one.survivors) + len(one.excused)
        lines.append(f"{one.rule}: {one.count - alive} of {one.count}")
        lines += [f"    {name}" for name in one.survivors]
        lines += [f"    ({name}: {reasons()[one.rule][name]})" for name in one.excused]
    lines.append(f"killed {100 * share_killed(found):.1f} % of {sum(o.count for o in found)}")
    return "\n".join(lines)
