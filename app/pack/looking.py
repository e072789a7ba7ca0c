"""The sheet of what to look at aboard: one walk, place by place, with room for the answers."""

from __future__ import annotations

from app.pack.tables import Column, Row, Table
from app.reports import CAUTION
from rules.engine import Report
from rules.looking import by_place

TICK = "\u2610"


def looking_table(report: Report) -> Table | None:
    """Return the questions by place, or None when all are answered."""
    if not report.questions:
        return None
    columns = (Column("Place", 0.16, "bold"), Column("Look for", 0.54), Column("Check", 0.06),
               Column("Yes", 0.05), Column("No", 0.05), Column("Note, date", 0.14))
    rows = [Row((place if first else "", question.text, question.number, TICK, TICK, ""),
                question.item)
            for place, questions in by_place(report.questions)
            for first, question in zip((True, *(False,) * len(questions)), questions,
                                       strict=False)]
    return Table("Look aboard", columns, tuple(rows),
                 "What only eyes can tell. Write the answer here, then in the particulars of the "
                 "part; an answered question leaves this list.", CAUTION)
