"""Edits of acceptances: keep a finding with a written reason, take that back."""

from __future__ import annotations

from app.words import _, within
from model.diagram import Acceptance, Diagram
from model.edits import Edit, put, setting
from model.naming import fresh_ids
from rules.acceptances import facts
from rules.rule import Finding


def accept_edit(diagram: Diagram, finding: Finding, reason: str, by: str, date: str) -> Edit:
    """Return the edit that accepts a finding, with the facts it is accepted for."""
    (item,) = fresh_ids(["A"], diagram)
    acceptance = Acceptance.read({
        "id": item, "rule": finding.rule, "where": finding.where, "reason": reason.strip(),
        "by": by.strip(), "date": date, "facts": facts(finding)})
    return setting(diagram, _("Accept '{title}'").format(title=within(finding.title)), acceptance)


def withdraw_edit(diagram: Diagram, acceptance: str) -> Edit:
    """Return the edit that takes an acceptance back: the finding stands again."""
    return Edit(_("Take the acceptance back"), (put(diagram, "acceptances", acceptance, None),))
