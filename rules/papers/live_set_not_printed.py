"""What it checks.
The isolation card in the papers being printed: whether it lists all that stays live with every
main switch off.

Why it matters.
The card is read by somebody with a spanner in the hand who believes that off is off.

Fails when.
Something stays live and the card is not among the sheets, or does not list it.

Passes when.
The card lists all of it, or nothing stays live.

Limits.
It speaks when papers are printed.
"""

from __future__ import annotations

from model.analysis.still_live import live_with_all_off
from model.survey import Survey
from rules.ordering import in_order
from rules.papers_made import Papers
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

RULE = Rule(
    slug="live_set_not_printed",
    number="12.4",
    title="Isolation card does not list what stays live",
    topic="papers",
    severity="danger",
    looks_at="the isolation card that is printed",
    subjects=lambda survey: [],
    messages={"unlisted": "With every main switch off these stay live, and the papers do not say "
                          "so: {parts}."},
    remedy="Print the isolation card.",
    sources=("common_practice",),
    judges="papers",
)


def check(papers: Papers, survey: Survey, profile: Profile) -> Answer:
    """Judge the card."""
    listed = papers.lists.get("isolation", frozenset())
    unlisted = in_order(live_with_all_off(survey).parts.keys() - listed)
    return Fault("unlisted", tuple(unlisted), {},
                 {"parts": named(survey.diagram, unlisted)}) if unlisted else None
