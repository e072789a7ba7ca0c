"""What it checks.
The drawn negatives of loads, sources and converters: whether they lead to a battery that feeds
them, or that they charge.

Why it matters.
What leaves a battery by its plus comes back to its minus. Behind a negative that is not joined
nothing works, or the current finds a way home by an engine, a bonding wire or the shield of an
aerial.

Fails when.
Returns are drawn, and over negatives, hull and bonding no way leads from the minus of a part to the
battery's in any position of the switches.

Passes when.
A way leads there. What comes home by bonding or the hull alone belongs to 7.3 and 7.4.

Limits.
Parts whose negatives hang together are named together. A minus with nothing at it belongs to 4.8,
as does a battery's own negative; an alternator or starter by itself to 7.12.
"""

from __future__ import annotations

from model.analysis.no_way_home import MACHINES, Stranded
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.tracing import untraced
from rules.wording import named


def _subjects(survey: Survey) -> list[Stranded]:
    if untraced(survey.diagram):
        return []
    components = survey.diagram.components
    return [lost for lost in survey.no_way_home
            if len(lost.items) > 1 or components[lost.items[0]].kind not in MACHINES]


RULE = Rule(
    slug="negative_leads_nowhere",
    number="4.27",
    title="Negative that leads to no battery",
    topic="conductors",
    severity="fault",
    looks_at="the negatives that hang together and lead to no battery",
    subjects=_subjects,
    messages={
        "ends": "No negative leads from {items} to a battery: it ends at {end}.",
        "nowhere": "No negative leads from {items} to a battery.",
    },
    remedy="Draw the negative that is missing, or fit it.",
    sources=("common_practice",),
    quiet={
        "machine": "it is an alternator or starter by itself: 7.12 names it",
        "battery": "the battery's own negative is missing: 4.8 names it",
        "tracing": "conductors are still being traced",
        "stored": "it is in store",
    },
)


def check(lost: Stranded, survey: Survey, profile: Profile) -> Answer:
    """Name what hangs together, and where it ends."""
    items = named(survey.diagram, lost.items)
    if not lost.ends:
        return Fault("nowhere", lost.items, {}, {"items": items})
    return Fault("ends", (*lost.items, *lost.ends), {}, {
        "items": items, "end": named(survey.diagram, lost.ends)})
