"""What it checks.
The leads of clocks, memories and trackers that are taken from a battery.

Why it matters.
A hair-thin wire on a battery without a fuse is a heating wire the day it chafes.

Fails when.
Such a lead leaves a battery and reaches what it serves with no fuse on the way.

Passes when.
A small fuse is where it starts.

Limits.
A fuse that is too far away is named by 1.2, a lead taken from a bar by 1.3.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.leads import Lead
from model.survey import Survey
from rules.memory_leads import is_memory
from rules.placing_device import fitted_at_start
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


def _to_memories(survey: Survey) -> Iterator[Lead]:
    return (lead for lead in survey.leads if any(is_memory(end, survey) for end in lead.ends))


RULE = Rule(
    slug="memory_feed_without_fuse",
    number="10.9",
    title="Memory feeds without fuse",
    topic="safety_circuits",
    severity="fault",
    looks_at="each lead from a battery to a clock, memory or tracker",
    subjects=_to_memories,
    messages={"none": "{lead} runs from {battery} to {memory} with no fuse."},
    remedy="Fit a small fuse where the wire starts.",
    sources=("abyc_e11_overcurrent",),
    quiet={"moulded": "a fuse is in the equipment's own lead at the battery"},
    fix="sometimes",
)


def check(lead: Lead, survey: Survey, profile: Profile) -> Answer:
    """Judge one lead."""
    own = {end.item: survey.diagram.components[end.item].parameters.get("own_fuse")
           for end in lead.ends if is_memory(end, survey)}
    bare = [item for item, fused in own.items() if fused is False]
    if not bare:
        unsaid = tuple(f"{item}.own_fuse" for item, fused in own.items() if fused is None)
        return Missing(unsaid, (lead.conductor, *own)) if unsaid else None
    return Fault("none", (lead.conductor, *lead.batteries, *bare), {}, {
        "lead": named(survey.diagram, [lead.conductor]), "memory": named(survey.diagram, bare),
        "battery": named(survey.diagram, lead.batteries)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse at the battery."""
    lead = next(lead for lead in survey.leads if lead.conductor == finding.where[0])
    yield from fitted_at_start(
        survey, lead.conductor, lead.node, (lead.conductor,), 0.0, profile)
