"""What it checks.
The leads of clocks, memories and trackers that are taken from a battery.

Why it matters.
A hair-thin wire on a battery without a fuse is a heating wire the day it chafes.

Fails when.
Such a lead leaves a battery and reaches what it serves with no fuse on the way.

Passes when.
A small fuse is where it starts.

Limits.
A fuse that is too far away is named by 1.2, a lead taken from a bar by 1.3. A lead that goes on to
other things belongs to them up to where the memory's own wire leaves it; a bar alone is no other
thing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.leads import Lead
from model.survey import Survey
from rules.memory_leads import is_memory
from rules.placing_device import drawn_a, fitted_at_start
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Branch:
    """The conductor from which on a lead serves memories alone, and the memories."""

    lead: Lead
    conductor: str
    memories: tuple[str, ...]


def _to_memories(survey: Survey) -> Iterator[Branch]:
    for lead in survey.leads:
        shared = {item for end in lead.ends if end.kind != "bus" and not is_memory(end, survey)
                  for item in end.conductors}
        branches: dict[str, list[str]] = {}
        for end in lead.ends:
            if is_memory(end, survey):
                own = [item for item in end.conductors if item not in shared]
                branches.setdefault((own or end.conductors[-1:])[0], []).append(end.item)
        yield from (Branch(lead, first, tuple(items)) for first, items in branches.items())


RULE = Rule(
    slug="memory_feed_without_fuse",
    number="10.9",
    title="Memory feeds without fuse",
    topic="safety_circuits",
    severity="fault",
    looks_at="each lead from a battery to a clock, memory or tracker",
    subjects=_to_memories,
    messages={"none": "{lead} feeds {memory} from {battery} with no fuse."},
    remedy="Fit a small fuse where the wire starts.",
    sources=("abyc_e11_overcurrent",),
    quiet={"moulded": "a fuse is in the equipment's own lead at the battery"},
    fix="sometimes",
)


def check(branch: Branch, survey: Survey, profile: Profile) -> Answer:
    """Judge one branch."""
    own = {item: survey.diagram.components[item].parameters.get("own_fuse")
           for item in branch.memories}
    bare = [item for item, fused in own.items() if fused is False]
    if not bare:
        unsaid = tuple(f"{item}.own_fuse" for item, fused in own.items() if fused is None)
        return Missing(unsaid, (branch.conductor, *own)) if unsaid else None
    return Fault("none", (branch.conductor, *branch.lead.batteries, *bare), {}, {
        "lead": named(survey.diagram, [branch.conductor]), "memory": named(survey.diagram, bare),
        "battery": named(survey.diagram, branch.lead.batteries)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a small fuse where the branch starts."""
    branch = next(one for one in _to_memories(survey) if one.conductor == finding.where[0])
    behind = {item: None for end in branch.lead.ends if branch.conductor in end.conductors
              for item in end.conductors[end.conductors.index(branch.conductor):]}
    yield from fitted_at_start(
        survey, branch.conductor, _start(branch, survey), tuple(behind),
        drawn_a(survey, branch.conductor), profile, snug=True)


def _start(branch: Branch, survey: Survey) -> int:
    """Return the terminal at which a branch leaves the battery or the conductor before it."""
    way = next(end.conductors for end in branch.lead.ends if branch.conductor in end.conductors)
    place = way.index(branch.conductor)
    if not place:
        return branch.lead.node
    before = {end.component for end in survey.diagram.conductors[way[place - 1]].ends()}
    graph = survey.graph
    return next(node for edge in graph.edges_of[branch.conductor] for node in (edge.a, edge.b)
                if graph.component_of[node] in before)
