"""What it checks.
Whether each part of the parts list stands on the sheet.

Why it matters.
Whoever works from the sheet does not see what is not on it, and it may be live.

Fails when.
A sheet is laid out, and a part of the list has no place on it.

Passes when.
All parts are drawn.

Limits.
The list is made from the drawing, so that the reverse cannot happen. Before anything is placed
there is no sheet to compare with.
"""

from __future__ import annotations

from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

RULE = Rule(
    slug="part_without_symbol",
    number="12.16",
    title="Symbol in the drawing with no place in the parts list, or the reverse",
    topic="papers",
    severity="note",
    looks_at="all parts together",
    subjects=lambda survey: [survey.diagram],
    messages={"undrawn": "In the list and not on the sheet: {parts}."},
    remedy="Place it on the sheet, or delete it.",
    sources=("common_practice",),
    quiet={"stored": "it is marked as stored", "row": "it stands in the row of a panel"},
)


def check(diagram: object, survey: Survey, profile: Profile) -> Answer:
    """Judge the sheet as a whole."""
    parts = survey.diagram.components.values()
    undrawn = in_order(part.id for part in parts if part.at is None
                       and part.row_of is None and part.stored is not True)
    if undrawn and any(part.at is not None for part in parts):
        return Fault("undrawn", tuple(undrawn), {}, {"parts": named(survey.diagram, undrawn)})
    return None
