"""What it checks.
The title block of the drawing that is being printed: date and edition.

Why it matters.
Two prints of different years lie in the chart table, and nobody can tell which one the boat is.

Fails when.
Date or edition is blank.

Passes when.
Both are there beside the word that says as found, planned or as built.

Limits.
It speaks when papers are printed, not while somebody draws.
"""

from __future__ import annotations

from model.survey import Survey
from rules.papers_made import Papers
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule

RULE = Rule(
    slug="title_block_blank",
    number="12.10",
    title="Drawing not marked as-found, planned or as-built, with date and revision",
    topic="papers",
    severity="caution",
    looks_at="the title block of what is printed",
    subjects=lambda survey: [],
    messages={"blank": "The title block has no {fields}."},
    remedy="Fill in date and edition in the particulars of the boat.",
    sources=("iso_manual",),
    quiet={"draft": "the drawing is only on the screen"},
    judges="papers",
)


def check(papers: Papers, survey: Survey, profile: Profile) -> Answer:
    """Judge the title block."""
    boat = survey.diagram.boat
    blank = [name for name in ("date", "edition") if not getattr(boat, name).strip()]
    return Fault("blank", ("boat",), {}, {"fields": " and no ".join(blank)}) if blank else None
