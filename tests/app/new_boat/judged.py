"""What must be true of every boat the questions draw."""

from __future__ import annotations

from collections.abc import Mapping

from app.new_boat.answers import Answers
from app.new_boat.boat import boat_of
from model.storage.load import loads
from model.storage.save import dumps
from rules.engine import check
from rules.rule import SEVERITIES

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
