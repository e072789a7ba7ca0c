"""What must be true of every boat the questions draw, and of its sheet."""

from __future__ import annotations

from collections.abc import Mapping

from app.drawing.sheet import sheet_drawing
from app.new_boat.answers import Answers
from app.new_boat.boat import boat_of
from model.storage.load import loads
from model.storage.save import dumps
from rules.engine import check
from rules.rule import SEVERITIES
from tests.overlaps import overlaps

COUNTED = SEVERITIES[: SEVERITIES.index("note")]
# By the number of the check: what only the owner can measure or read, and why. The figures that
# are estimated leave nothing of the kind at caution or above.
LEFT_TO_OWNER: Mapping[str, str] = {}


def complaints(answers: Answers) -> list[str]:
    """Return what is wrong with the boat of some answers: nothing, it is hoped."""
    diagram = boat_of(answers)
    found = []
    if loads(dumps(diagram)) != diagram:
        found.append("saved and loaded it is another")
    report = check(diagram, strict=True)
    assert report is not None
    found += [f"{one.number} {one.severity} {one.where[0]}: {one.message}"
              for one in report.findings
              if one.severity in COUNTED and one.number not in LEFT_TO_OWNER]
    return [f"{line}   {answers}" for line in found]


def clashes(answers: Answers) -> list[str]:
    """Return what lies on what on the sheet of the boat, or has no place there."""
    diagram = boat_of(answers)
    found = [f"{part.id} has no place" for part in diagram.components.values()
             if part.at is None and part.row_of is None]
    found += [f"{a} lies on {b}" for a, b in overlaps(diagram, sheet_drawing(diagram))]
    return [f"{line}   {answers}" for line in found]
