"""The rule book: finds the rules by walking the topic folders, and refuses duplicates.

A rule's file is `rules/TOPIC/SLUG.py`; it holds a docstring, a record RULE and a function check.
"""

from __future__ import annotations

import importlib
import inspect
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from importlib.resources.abc import Traversable

from rules.rule import BookRule


class BadRule(Exception):
    """A rule's file that does not fit the book."""


@cache
def book() -> tuple[BookRule, ...]:
    """Return every rule, in the order of their numbers. Raise BadRule for one that misfits."""
    found: dict[str, BookRule] = {}
    numbers: set[str] = set()
    for topic, slug in rule_files():
        module = importlib.import_module(f"rules.{topic}.{slug}")
        record = module.RULE
        if (record.topic, record.slug) != (topic, slug):
            raise BadRule(f"rules/{topic}/{slug}.py holds the record of "
                          f"{record.topic}/{record.slug}")
        if slug in found or record.number in numbers:
            raise BadRule(f"two rules are called {slug} or numbered {record.number}")
        offers = getattr(module, "fixes", None)
        if (offers is None) != (record.fix == "never"):
            raise BadRule(f"rules/{topic}/{slug}.py says fix = {record.fix!r}, which does not "
                          "fit whether it offers fixes")
        numbers.add(record.number)
        found[slug] = BookRule(
            record, module.check, inspect.cleandoc(module.__doc__ or ""), offers)
    return tuple(sorted(found.values(), key=lambda rule: number_key(rule.record.number)))


def rule_files() -> Iterator[tuple[str, str]]:
    """Yield (topic, slug) for every rule's file in the topic folders."""
    for topic in sorted(files("rules").iterdir(), key=lambda entry: entry.name):
        if topic.is_dir() and topic.joinpath("__init__.py").is_file():
            for slug in sorted(_slugs(topic)):
                yield topic.name, slug


def _slugs(topic: Traversable) -> Iterator[str]:
    for entry in topic.iterdir():
        if entry.name.endswith(".py") and not entry.name.startswith("_"):
            yield entry.name.removesuffix(".py")


def number_key(number: str) -> tuple[int, ...]:
    """Return what sorts catalogue numbers as people count: 1.2 before 1.10."""
    return tuple(int(part) for part in number.split("."))


def find(rule: str) -> BookRule | None:
    """Return the rule with that slug or catalogue number, or None. Hyphens are accepted."""
    wanted = rule.strip().replace("-", "_")
    return next((r for r in book() if wanted in (r.record.slug, r.record.number)), None)
