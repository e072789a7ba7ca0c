"""The findings sheet: what the checks found, what could not be judged, what was accepted."""

from __future__ import annotations

from app.drawing.badges import Badge, badge_marks
from app.drawing.marks import Box
from app.pack.tables import Column, Row, Table
from app.reports import CAUTION
from rules.engine import Report

BADGE_GROUND = Box(-3.3, -3.3, 3.3, 3.3)


def findings_table(report: Report) -> Table:
    """Return the findings, worst first, then what could not be judged."""
    columns = (
        Column("", 0.035), Column("Severity", 0.075, "bold"), Column("Where", 0.13, "bold"),
        Column("What was found", 0.46), Column("Source", 0.3),
    )
    rows = []
    for number, finding in enumerate(report.findings, start=1):
        shape = tuple(badge_marks([Badge(finding.severity, number)], BADGE_GROUND))
        rows.append(Row(
            ("", finding.severity, ", ".join(finding.where[:6]),
             f"{finding.title}. {finding.message}", "; ".join(finding.sources)),
            marks=shape if finding.severity != "note" else ()))
    for unjudged in report.cannot_tell:
        shape = tuple(badge_marks([Badge("cannot_tell", 0)], BADGE_GROUND))
        rows.append(Row(("", "cannot tell", ", ".join(unjudged.where[:6]), unjudged.message, ""),
                        marks=shape))
    for accepted in report.accepted:
        rows.append(Row(("", "accepted", ", ".join(accepted.finding.where[:6]),
                         f"{accepted.finding.title}. Accepted: {accepted.reason}", "")))
    words = f"{report.rules_run} checks ran against the rule set '{report.profile}'."
    if not rows:
        words += " Nothing to report from what is drawn."
    return Table("Findings", columns, tuple(rows), words, CAUTION)
