"""The appendix: of every check that found something, what it looks for, why, and what to do."""

from __future__ import annotations

from app.pack.tables import Column, Row, Table
from app.reports import CAUTION
from rules.book import find, number_key
from rules.describe import Page, page
from rules.engine import Report
from rules.rule import BookRule


def checks_table(report: Report) -> Table | None:
    """Return the pages of the checks that speak or are accepted, or None when none does."""
    spoken = [*report.findings, *(accepted.finding for accepted in report.accepted)]
    rules = [rule for slug in dict.fromkeys(finding.rule for finding in spoken)
             if (rule := find(slug)) is not None]
    if not rules:
        return None
    columns = (Column("Check", 0.05, "bold"), Column("Title", 0.17, "bold"),
               Column("It fails when", 0.24), Column("Why it matters", 0.26),
               Column("What to do", 0.28))
    rules.sort(key=lambda rule: number_key(rule.record.number))
    rows = tuple(_row(rule) for rule in rules)
    return Table("What the checks say", columns, rows,
                 "Of the checks that found something on this boat.", CAUTION)


def _row(rule: BookRule) -> Row:
    told = page(rule)
    return Row((told.number, told.title, _said(told, "Fails when"),
                _said(told, "Why it matters"), rule.record.remedy))


def _said(told: Page, heading: str) -> str:
    return " ".join(line for section in told.sections if section.heading == heading
                    for line in section.lines)
