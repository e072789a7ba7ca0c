"""The findings sheet: what the checks found, what could not be judged, what was accepted."""

from __future__ import annotations

from app.drawing.badges import Badge, badge_marks
from app.drawing.frame import PRACTICE
from app.drawing.marks import Box
from app.drawing.wording import where_text
from app.pack.tables import Column, Row, Table
from app.reports import CAUTION
from model.diagram import Diagram
from rules.engine import Report
from rules.gaps import gaps

BADGE_GROUND = Box(-3.3, -3.3, 3.3, 3.3)


def findings_table(report: Report, diagram: Diagram) -> Table:
    """Return the findings, worst first, then what could not be judged."""
    columns = (
        Column("", 0.035), Column("Severity", 0.075, "bold"), Column("Where", 0.16, "bold"),
        Column("What was found", 0.47), Column("Source", 0.26),
    )
    rows = []
    for number, finding in enumerate(report.findings, start=1):
        shape = tuple(badge_marks([Badge(finding.severity, number)], BADGE_GROUND))
        rows.append(Row(
            ("", finding.severity, where_text(diagram, finding.where),
             f"{finding.title}. {finding.message}", "; ".join(finding.sources)),
            marks=shape if finding.severity != "note" else ()))
    for gap in gaps(report.cannot_tell, diagram):
        shape = tuple(badge_marks([Badge("cannot_tell", 0)], BADGE_GROUND))
        where = where_text(diagram, gap.where)
        rows.append(Row(("", "cannot tell", where, gap.message, ""), marks=shape))
    for accepted in report.accepted:
        rows.append(Row(("", "accepted", where_text(diagram, accepted.finding.where),
                         f"{accepted.finding.title}. Accepted: {accepted.reason}", "")))
    words = f"{report.rules_run} checks ran against {PRACTICE[diagram.boat.rule_set]}."
    if not rows:
        words += " Nothing to report from what is drawn."
    return Table("Findings", columns, tuple(rows), words, CAUTION)
