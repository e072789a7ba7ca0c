"""What it checks.
Whether the papers being printed say the colours of conductors in words.

Why it matters.
A photocopy has no colours, and one man in twelve tells red from green badly.

Fails when.
The diagram is printed without the conductor schedule, which has every colour in words.

Passes when.
Both are printed.

Limits.
The legend of the diagram is always printed with it. It speaks when papers are printed.
"""

from __future__ import annotations

from model.survey import Survey
from rules.papers_made import Papers
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule

RULE = Rule(
    slug="colours_without_words",
    number="12.12",
    title="Colour legend missing, or colours used without words",
    topic="papers",
    severity="note",
    looks_at="the diagram that is printed",
    subjects=lambda survey: [],
    messages={"wordless": "The papers show {count_count} conductors in colour, and no sheet has "
                          "their colours in words."},
    remedy="Print the conductor schedule with the diagram.",
    sources=("common_practice",),
    quiet={"no_diagram": "the diagram is not printed, or shows no colours"},
    judges="papers",
)


def check(papers: Papers, survey: Survey, profile: Profile) -> Answer:
    """Judge the set of sheets."""
    coloured = [w.id for w in survey.diagram.conductors.values() if w.colour is not None]
    if coloured and "diagram" in papers.lists and "conductors" not in papers.lists:
        return Fault("wordless", tuple(coloured), {"count_count": len(coloured)})
    return None
