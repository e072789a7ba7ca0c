"""The engine: walks the subjects, lets the rules judge, applies acceptances.

A rule that crashes becomes a finding about that rule, and the others still run.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from model.diagram import Diagram
from model.survey import Survey
from rules.acceptances import apply_acceptances
from rules.asked_for import cannot_tell_sentence
from rules.book import book, find, number_key
from rules.looking import Question, asked
from rules.ordering import natural
from rules.papers_made import Papers
from rules.profiles import Profile, profile_of
from rules.rule import (
    SEVERITIES,
    Accepted,
    BookRule,
    CannotTell,
    Fault,
    Finding,
    Fix,
    Missing,
    mildest,
)
from rules.second_opinion import UNVERIFIED_AT_MOST, second_opinion
from rules.sources import cited
from rules.tracing import told_once_traced
from rules.wording import plain_value, sentence


@dataclass(frozen=True, slots=True)
class Report:
    """What the rule book says of a diagram."""

    findings: tuple[Finding, ...]
    cannot_tell: tuple[CannotTell, ...]
    accepted: tuple[Accepted, ...]
    rules_run: int
    profile: str = ""
    questions: tuple[Question, ...] = ()

    def counts(self) -> dict[str, int]:
        """Return how many findings there are of each severity, and what could not be judged."""
        counts: dict[str, int] = dict.fromkeys(SEVERITIES, 0)
        for finding in self.findings:
            counts[finding.severity] += 1
        counts["cannot_tell"] = len(self.cannot_tell)
        return counts


def report_on(subject: Diagram | Survey, profile: str | None = None) -> Report:
    """Return the report on a diagram that nothing overtakes; `profile` as in `check`."""
    report = check(subject, profile)
    assert report is not None
    return report


def check(
    subject: Diagram | Survey, profile: str | None = None,
    overtaken: Callable[[], bool] | None = None, strict: bool = False,
    rules: Iterable[BookRule] | None = None, papers: Papers | None = None,
) -> Report | None:
    """Return the report on a diagram, or None when `overtaken` said that it is out of date.

    `profile` is "us" or "iso", the boat's own when None. With `strict` a crashing rule raises.
    `papers` are what is about to be printed; without them the rules about papers do not run.
    """
    drawn = subject if isinstance(subject, Survey) else Survey(subject)
    meant = drawn.as_meant()
    figures = profile_of(drawn.diagram.boat, profile)
    findings: list[Finding] = []
    unjudged: list[CannotTell] = []
    questions: list[Question] = []
    run = 0
    for rule in book() if rules is None else rules:
        if overtaken is not None and overtaken():
            return None
        if rule.record.judges == "papers" and papers is None:
            continue
        run += 1
        survey = drawn if rule.record.as_drawn else meant
        try:
            own, missing = _run(rule, _shown(rule, survey, findings, papers), survey, figures)
        except Exception as error:
            if strict:
                raise
            findings.append(_crashed(rule, error))
            continue
        findings += own
        if rule.record.questions:
            questions += asked(rule, missing, survey.diagram)
        else:
            unjudged += _unjudged(rule, missing, survey.diagram)
    kept, accepted, stale = apply_acceptances(findings, drawn.diagram)
    return Report(
        tuple(sorted([*kept, *stale], key=_order)), tuple(unjudged), accepted, run, figures.id,
        tuple(questions))


def _shown(
    rule: BookRule, survey: Survey, findings: list[Finding], papers: Papers | None
) -> Iterable[Any]:
    """Return what a rule is shown, one at a time. Rules about findings come last in the book."""
    judges = rule.record.judges
    if judges == "boat":
        subjects: Iterable[Any] = rule.record.subjects(survey)
        return subjects
    return ((tuple(findings),) if judges == "findings" else (papers,))


def _run(
    rule: BookRule, subjects: Iterable[Any], survey: Survey, figures: Profile
) -> tuple[list[Finding], list[Missing]]:
    findings: dict[tuple[str, ...], Finding] = {}
    told: set[tuple[tuple[str, ...], str]] = set()  # the same words of the same thing, by two ways
    missing: list[Missing] = []
    for subject in subjects:
        answer = rule.check(subject, survey, figures)
        if rule.record.follows:
            answer = told_once_traced(answer, survey.diagram)
        if isinstance(answer, Fault):
            finding = _finding(rule, subject, answer, survey, figures)
            if (finding.where[:1], finding.message) not in told:
                findings.setdefault(finding.where, finding)
                told.add((finding.where[:1], finding.message))
        elif isinstance(answer, Missing):
            if not answer.fields:
                raise ValueError("asks for no field")
            missing.append(answer)
    return list(findings.values()), missing


def _finding(
    rule: BookRule, subject: Any, fault: Fault, survey: Survey, figures: Profile
) -> Finding:
    record = rule.record
    sourced = [f for f in fault.figures.values() if not isinstance(f, int | float)]
    sources = (*cited(record.sources, figures.id), *(f.source for f in sourced), *fault.sources)
    severity = fault.severity or record.severity
    text = sentence(record.messages[fault.message], fault, survey.diagram)
    if fault.unverified or any(not figure.confirmed for figure in sourced):
        twin = rule.check(subject, survey, figures.confirmed())
        agreeing = twin if isinstance(twin, Fault) and twin.where == fault.where else None
        text = f"{text} {second_opinion(record, fault, agreeing, survey, figures)}"
        confirmed = UNVERIFIED_AT_MOST if agreeing is None else agreeing.severity
        severity = mildest(severity, confirmed or record.severity)
    return Finding(
        record.slug, record.number, record.topic, severity, record.title, text,
        fault.where, {name: plain_value(value) for name, value in fault.figures.items()},
        tuple(dict.fromkeys(sources)), fault.message, fault.assumed,
    )


def _unjudged(rule: BookRule, missing: list[Missing], diagram: Diagram) -> list[CannotTell]:
    """Return one entry for each kind of missing field: a list of forty is one thing to do."""
    groups: dict[tuple[str, ...], list[Missing]] = {}
    for one in missing:
        key = tuple(sorted({field.rpartition(".")[2] for field in one.fields}))
        groups.setdefault(key, []).append(one)
    record = rule.record
    found = []
    for group in groups.values():
        fields = tuple(dict.fromkeys(field for one in group for field in one.fields))
        where = tuple(dict.fromkeys(item for one in group for item in one.where))
        found.append(CannotTell(
            record.slug, record.number, record.topic, record.title,
            cannot_tell_sentence(record.title, fields, diagram), where, fields))
    return found


def fixes_of(
    finding: Finding, subject: Diagram | Survey, profile: str | None = None
) -> tuple[Fix, ...]:
    """Return the fixes a finding's rule offers on the diagram it was found in; `profile` as in
    `check`.

    What would touch a conductor at a part that is the wrong way round waits until that is right.
    """
    rule = find(finding.rule)
    if rule is None or rule.fixes is None:
        return ()
    drawn = subject if isinstance(subject, Survey) else Survey(subject)
    survey = drawn if rule.record.as_drawn else drawn.as_meant()
    wires, meant = drawn.diagram.conductors, survey.diagram.conductors
    turned = {item for item, wire in wires.items() if wire is not meant[item]}
    offered = rule.fixes(finding, survey, profile_of(survey.diagram.boat, profile))
    return tuple(fix for fix in offered if not fix.edit.is_empty() and turned.isdisjoint(
        change.id for change in fix.edit.changes))


def _crashed(rule: BookRule, error: Exception) -> Finding:
    record = rule.record
    return Finding(
        record.slug, record.number, record.topic, "caution", "Check could not be finished",
        f"The check '{record.title}' ended with an error ({type(error).__name__}: {error}). "
        "What it looks at has not been judged.", (), {}, ())


def _order(finding: Finding) -> tuple[object, ...]:
    first = finding.where[0] if finding.where else ""
    number = number_key(finding.number) if finding.number else ()
    return (SEVERITIES.index(finding.severity), natural(first), number, finding.where)
