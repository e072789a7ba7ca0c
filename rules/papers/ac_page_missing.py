"""What it checks.
Whether the papers being printed have the page of the AC side, on a boat that has one.

Why it matters.
The owner's manual must show it, a surveyor asks for it, and whoever comes to help must know what
can kill.

Fails when.
AC is aboard and its page is not among the sheets.

Passes when.
The page is printed, or there is no AC.

Limits.
It speaks when papers are printed.
"""

from __future__ import annotations

from model.survey import Survey
from rules.ordering import in_order
from rules.papers_made import Papers
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

RULE = Rule(
    slug="ac_page_missing",
    number="12.14",
    title="AC diagram for the owner's manual missing",
    topic="papers",
    severity="fault",
    looks_at="the set of sheets that is printed",
    subjects=lambda survey: [],
    messages={"missing": "AC is aboard ({parts}), and its page is not among the papers."},
    remedy="Print the page of alternating current.",
    sources=("iso_manual",),
    quiet={"no_ac": "there is no AC aboard"},
    judges="papers",
)


def check(papers: Papers, survey: Survey, profile: Profile) -> Answer:
    """Judge the set of sheets."""
    if "alternating" in papers.lists:
        return None
    graph = survey.graph
    parts = in_order({edge.owner for edge in graph.edges if edge.role != "conductor"
                      and {graph.names[edge.a][-1], graph.names[edge.b][-1]} & {"L", "N"}})
    return Fault("missing", tuple(parts), {}, {"parts": named(survey.diagram, parts)}) if (
        parts) else None
