"""What the cases of a rule say of it: the verdicts that a mutant must change somewhere."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from typing import Any
from unittest.mock import patch

import rules.profiles
from model.survey import Survey
from rules.book import BookRule
from rules.engine import Report, check
from rules.profiles import Profile, RuleSet, profile
from tests.mutation.mutants import Mutant
from tests.rules.bases import BASES
from tests.rules.test_cases import FIRING, cases, diagram_of

SECTIONS = (*((name, "edits") for name in FIRING), ("fires", "near_miss"), ("quiet", "edits"),
            ("quiet", "without"), ("cannot_tell", "edits"))
Seen = tuple[Any, ...]


def is_killed(mutant: Mutant) -> bool:
    """Say whether some case of the rule, or some boat without fault, tells the mutant apart."""
    slug = mutant.rule.record.slug
    expected = [_expected(slug, number) for number in range(len(surveys(slug)))]
    with _moved(mutant):
        return any(_seen(mutant.rule, survey, rule_set) != seen
                   for (survey, rule_set), seen in zip(surveys(slug), expected, strict=True))


@cache
def surveys(slug: str) -> tuple[tuple[Survey, str | None], ...]:
    """Return every diagram of a rule's cases, surveyed once, and the boats without fault."""
    return tuple(_surveys(slug))


def _surveys(slug: str) -> Iterator[tuple[Survey, str | None]]:
    for section, key in SECTIONS:
        for case in cases(slug).get(section, ()):
            if key in case:
                yield Survey(diagram_of(slug, case, key)), case.get("profile")
    for base in BASES.values():
        yield Survey(base()), None


@cache
def _expected(slug: str, number: int) -> Seen:
    from rules.book import find

    rule = find(slug)
    assert rule is not None
    survey, rule_set = surveys(slug)[number]
    return _seen(rule, survey, rule_set)


def _seen(rule: BookRule, survey: Survey, rule_set: str | None) -> Seen:
    """Return what a rule says of a diagram, as far as the cases ask: also that it breaks."""
    try:
        report = check(survey, rule_set, strict=True, rules=(rule,))
    except Exception as error:
        return ("broken", type(error).__name__)
    assert isinstance(report, Report)
    found = [(f.message_id, f.where, f.severity) for f in report.findings
             if f.rule == rule.record.slug]
    return (tuple(found), tuple(sorted(field for one in report.cannot_tell
                                       for field in one.missing)))


def _moved(mutant: Mutant) -> Any:
    """Return the context in which the mutant's figure is moved, in both practices."""
    if mutant.moved is None:
        return patch.object(rules.profiles, "profile", profile)
    name, factor = mutant.moved

    def other(rule_set: RuleSet) -> Profile:
        whole = profile(rule_set)
        figure = whole.figures[name]
        return replace(whole, figures={
            **whole.figures, name: replace(figure, value=figure.value * factor)})

    return patch.object(rules.profiles, "profile", other)
