"""What the cases of a rule say of it: the verdicts that a mutant must change somewhere."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from typing import Any
from unittest.mock import patch

import rules.profiles
from model.survey import Survey
from rules.book import BookRule, book
from rules.engine import Report, check
from rules.papers_made import Papers
from rules.profiles import Profile, RuleSet, profile
from tests.mutation.mutants import Mutant
from tests.rules.bases import BASES
from tests.rules.test_cases import FIRING, cases, diagram_of, papers_for, told

SECTIONS = (*((name, "edits") for name in FIRING), ("fires", "near_miss"), ("quiet", "edits"),
            ("quiet", "without"), ("cannot_tell", "edits"))
Seen = tuple[Any, ...]


def is_killed(mutant: Mutant) -> bool:
    """Say whether some case of the rule, or some boat without fault, tells the mutant apart."""
    slug = mutant.rule.record.slug
    expected = [_expected(slug, number) for number in range(len(surveys(slug)))]
    with _moved(mutant):
        return any(_seen(mutant.rule, shown) != seen
                   for shown, seen in zip(surveys(slug), expected, strict=True))


@dataclass(frozen=True)
class Shown:
    """A diagram surveyed, the practice it is checked against, the words that its case expects of
    the first finding and the figures, those of the profile apart: they are fetched from there."""

    survey: Survey
    rule_set: str | None
    says: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()
    papers: Papers | None = None


@cache
def surveys(slug: str) -> tuple[Shown, ...]:
    """Return every diagram of a rule's cases, surveyed once, and the boats without fault."""
    return tuple(_surveys(slug))


def _surveys(slug: str) -> Iterator[Shown]:
    for section, key in SECTIONS:
        for case in cases(slug).get(section, ()):
            if key not in case:
                continue
            diagram = diagram_of(slug, case, key)
            survey, papers = Survey(diagram), papers_for(diagram, told(slug, case))
            if key == "edits" and section in FIRING:
                yield Shown(survey, case.get("profile"), tuple(case.get("says", ())), tuple(
                    name for name, value in case.get("figures", {}).items()
                    if not str(value).startswith("profile")), papers)
            else:
                yield Shown(survey, case.get("profile"), papers=papers)
    for base in BASES.values():
        yield Shown(Survey(base()), None)


@cache
def _expected(slug: str, number: int) -> Seen:
    from rules.book import find

    rule = find(slug)
    assert rule is not None
    return _seen(rule, surveys(slug)[number])


def _seen(rule: BookRule, shown: Shown) -> Seen:
    """Return what a rule says of a diagram, as far as the cases ask: also that it breaks."""
    try:
        report = check(shown.survey, shown.rule_set, strict=True, rules=_together(rule),
                       papers=shown.papers)
    except Exception as error:
        return ("broken", type(error).__name__)
    assert isinstance(report, Report)
    own = [f for f in report.findings if f.rule == rule.record.slug]
    return (tuple((f.message_id, f.where, f.severity) for f in own),
            tuple(sorted(field for one in report.cannot_tell for field in one.missing)),
            tuple(sorted((one.item, one.field) for one in report.questions)),
            [(tuple(words in f.message for words in shown.says),
              tuple(f.figures.get(name) for name in shown.figures)) for f in own[:1]])


def _together(rule: BookRule) -> tuple[BookRule, ...]:
    """Return the rules to run: what judges findings comes after the rules that make them."""
    if rule.record.judges != "findings":
        return (rule,)
    return (*(r for r in book() if r.record.slug != rule.record.slug), rule)


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
