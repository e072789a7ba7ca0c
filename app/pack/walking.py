"""The walk list on paper: what to trace and measure, place by place, with room to write."""

from __future__ import annotations

from app.pack.tables import Column, Row, Table
from app.reports import CAUTION
from model.diagram import Diagram
from rules.engine import Report
from rules.walk_list import by_place, gathered, walk_list

TICK = "\u2610"


def walk_table(report: Report, diagram: Diagram) -> Table | None:
    """Return what to find out aboard by place, or None when nothing is left."""
    errands = walk_list(report, diagram)
    if not errands:
        return None
    columns = (Column("Place", 0.14, "bold"), Column("", 0.03), Column("What", 0.23, "bold"),
               Column("Find out (checks it settles)", 0.36), Column("Found, date", 0.24))
    rows = [Row((place if first else "", TICK, errand.subject, errand.text, ""), errand.item)
            for place, group in by_place(errands)
            for first, errand in zip(
                (True, *(False,) * len(group)), gathered(group, diagram), strict=False)]
    return Table("Walk list", columns, tuple(rows),
                 "What to trace and measure aboard. The figure in brackets is how many checks wait "
                 "for it. Write it here, then in the particulars of the part or conductor.",
                 CAUTION)
