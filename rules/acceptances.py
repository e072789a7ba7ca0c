"""Acceptances: findings the owner has accepted with a reason, and acceptances gone stale."""

from __future__ import annotations

from collections.abc import Mapping

from model.diagram import Acceptance, Diagram
from rules.rule import Accepted, Finding

STALE = "stale_acceptance"


def facts(finding: Finding) -> dict[str, str]:
    """Return what an acceptance of a finding holds of it: the ids and the figures, as text."""
    return {"where": " ".join(finding.where),
            **{name: f"{value:g}" for name, value in finding.figures.items()}}


def apply_acceptances(
    findings: list[Finding], diagram: Diagram
) -> tuple[list[Finding], tuple[Accepted, ...], list[Finding]]:
    """Return the findings that stand, those accepted, and findings on stale acceptances."""
    acceptances = diagram.acceptances
    accepted: list[Accepted] = []
    kept: list[Finding] = []
    outcome: dict[str, str] = {}
    for finding in findings:
        fitting = [a for a in acceptances.values() if _matches(a, finding)]
        holding = next((a for a in fitting if _same_facts(a, finding)), None)
        outcome.update({a.id: "changed" for a in fitting if outcome.get(a.id) != "holds"})
        if holding is None:
            kept.append(finding)
            continue
        outcome[holding.id] = "holds"
        accepted.append(Accepted(finding, holding.id, holding.reason, holding.by, holding.date))
    return kept, tuple(accepted), _stale(acceptances, outcome)


def _matches(acceptance: Acceptance, finding: Finding) -> bool:
    """Say whether an acceptance is of this finding: its rule, what it is about, and no more."""
    where = set(acceptance.where)
    return (acceptance.rule in (finding.rule, finding.number) and bool(finding.where)
            and finding.where[0] in where and where <= set(finding.where))


def _same_facts(acceptance: Acceptance, finding: Finding) -> bool:
    now = facts(finding)
    return all(now.get(name) == value for name, value in acceptance.facts.items())


def _stale(acceptances: Mapping[str, Acceptance], outcome: Mapping[str, str]) -> list[Finding]:
    found = []
    for item, acceptance in acceptances.items():
        if outcome.get(item) == "holds":
            continue
        rule = acceptance.rule.replace("_", " ")
        if outcome.get(item) == "changed":
            text = f"The acceptance of '{rule}' was given for other facts; it no longer holds."
        else:
            text = f"The acceptance of '{rule}' matches nothing any more; it can be removed."
        found.append(Finding(STALE, "", "documentation", "note", "Acceptance out of date", text,
                             acceptance.where, {}, ()))
    return found
