"""What it checks.
Which findings rest on a value that nobody stated and the program took a usual one for.

Why it matters.
A verdict is only as good as its figures. A guess that decides about a fuse is worth a measurement.

Fails when.
A finding rests on an assumed value.

Passes when.
All its values are stated.

Limits.
Values that were typed without a word on where they are from are taken as stated.
"""

from __future__ import annotations

from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Rule
from rules.wording import designation, field_words

RULE = Rule(
    slug="value_assumed",
    number="12.6",
    title="Value assumed, not measured",
    topic="papers",
    severity="note",
    looks_at="the findings on the boat",
    subjects=lambda survey: [],
    messages={"assumed": "Assumed, not measured, in the findings of this boat: {values}."},
    remedy="Measure them, or read the maker's sheet, and write them down.",
    sources=("common_practice",),
    judges="findings",
)


def check(findings: tuple[Finding, ...], survey: Survey, profile: Profile) -> Answer:
    """Judge the findings that the rules before made."""
    fields = tuple(dict.fromkeys(field for finding in findings for field in finding.assumed))
    values = []
    for path in fields:
        item, _, field = path.rpartition(".")
        values.append(f"{field_words(survey.diagram, item, field)} of "
                      f"{designation(survey.diagram, item)}")
    where = tuple(dict.fromkeys(path.rpartition(".")[0] for path in fields))
    return Fault("assumed", where, {}, {"values": "; ".join(values)}) if values else None
