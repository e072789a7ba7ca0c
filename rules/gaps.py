"""What could not be told, summed up: one line a topic, with the fields that would settle most."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from model.diagram import Diagram
from rules.asked_for import asked_for
from rules.ordering import natural
from rules.rule import CannotTell
from rules.wording import field_words

NAMED = 4


@dataclass(frozen=True, slots=True)
class Gap:
    """What is missing for the checks of a topic.

    `fields` come in the order of how many checks each would settle; `checks` counts the rules that
    could not judge something.
    """

    topic: str
    checks: int
    fields: tuple[str, ...]
    where: tuple[str, ...]
    message: str


def gaps(unjudged: Iterable[CannotTell], diagram: Diagram) -> tuple[Gap, ...]:
    """Return one gap for each topic, the one with most missing first."""
    by_topic: dict[str, list[CannotTell]] = {}
    for one in unjudged:
        by_topic.setdefault(one.topic, []).append(one)
    found = [_gap(topic, group, diagram) for topic, group in by_topic.items()]
    return tuple(sorted(found, key=lambda gap: (-len(gap.fields), gap.topic)))


def waiting_for(unjudged: Iterable[CannotTell]) -> Counter[str]:
    """Return how many checks wait for each field ("W3.size"): what it would settle."""
    return Counter(field for one in unjudged for field in dict.fromkeys(one.missing))


def _gap(topic: str, group: list[CannotTell], diagram: Diagram) -> Gap:
    wanted = waiting_for(group)
    fields = tuple(sorted(wanted, key=lambda field: (-wanted[field], natural(field))))
    checks = len({one.rule for one in group})
    where = tuple(dict.fromkeys(field.rpartition(".")[0] for field in fields))
    return Gap(topic, checks, fields, where, _sentence(topic, checks, fields, diagram))


def _sentence(topic: str, checks: int, fields: tuple[str, ...], diagram: Diagram) -> str:
    groups: dict[tuple[str, str], list[str]] = {}
    for path in fields:
        item, _, field = path.rpartition(".")
        groups.setdefault((field, field_words(diagram, item, field)), []).append(item)
    told = list(groups.items())[:NAMED]
    more = len(fields) - sum(len(items) for _, items in told)
    named = "; ".join(asked_for(diagram, field, items) for (field, _), items in told) + (
        f"; and {more} more" if more else "")
    checked = "1 check" if checks == 1 else f"{checks} checks"
    return (f"{topic.replace('_', ' ').capitalize()}: {checked} could not judge everything. "
            f"What would settle most: {named}.")
