"""What it checks.
The sheets that were printed before and are not printed now: whether they still say what is drawn.

Why it matters.
A new diagram beside an old list of fuses is worse than an old set: it looks right.

Fails when.
A sheet was printed before, the drawing has changed what it would say, and it is not among the
sheets printed now.

Passes when.
All sheets that changed are printed together.

Limits.
Only prints made from this file with the program's window are known. It speaks when papers are
printed.
"""

from __future__ import annotations

from model.survey import Survey
from rules.papers_made import Papers
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule

RULE = Rule(
    slug="page_older_than_change",
    number="12.17",
    title="Changed item not carried to every page after a plan is accepted",
    topic="papers",
    severity="fault",
    looks_at="the sheets that were printed before",
    subjects=lambda survey: [],
    messages={"old": "Printed before and out of date: {sheets}. Print them again with the others."},
    remedy="Print the whole set, and take the old pages out of the folder.",
    sources=("common_practice",),
    judges="papers",
)


def check(papers: Papers, survey: Survey, profile: Profile) -> Answer:
    """Judge the earlier prints."""
    old = [f"{name} (edition {edition})" for name, edition, digest in survey.diagram.boat.printed
           if name not in papers.lists and papers.digests.get(name) != digest]
    return Fault("old", ("boat",), {}, {"sheets": ", ".join(old)}) if old else None
