"""What it checks.
Boats with several groups of anodes: whether their grounds are joined.

Why it matters.
Two groups that are apart hold the metal of the boat at two voltages in one water, and one of them
pays for the other.

Fails when.
Two grounds of different anode groups are not joined.

Passes when.
They are, or there is one group.

Limits.
Whether the anodes suffice is for a corrosion survey to say.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from model.analysis.ground import ground_parts, grounded
from model.diagram import Component
from model.survey import Survey
from rules.fixing import connected
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.tying import BONDING, ground_terminal
from rules.wording import named

Pair = tuple[Component, Component]


def _pairs(survey: Survey) -> Iterator[Pair]:
    grouped = [part for part in ground_parts(survey.graph) if part.parameters.get("anode_group")]
    for one, other in itertools.combinations(grouped, 2):
        if one.parameters["anode_group"] != other.parameters["anode_group"]:
            yield one, other


RULE = Rule(
    slug="anodes_apart",
    number="7.15",
    title="Two engines' or masts' anodes on different grounds",
    topic="grounding",
    severity="note",
    looks_at="each two grounds of different anode groups",
    subjects=_pairs,
    messages={"apart": "{one} and {other} have anodes of their own, and no conductor joins them."},
    remedy="Join them, or have the boat surveyed for corrosion.",
    sources=("abyc_e2",),
    quiet={"joined": "a conductor joins them"},
    fix="sometimes",
)


def check(pair: Pair, survey: Survey, profile: Profile) -> Answer:
    """Judge one pair."""
    one, other = pair
    graph = survey.graph
    if grounded(graph, graph.nodes_of(one.id)) & set(graph.nodes_of(other.id)):
        return None
    return Fault("apart", (one.id, other.id), {}, {
        "one": named(survey.diagram, [one.id]), "other": named(survey.diagram, [other.id])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a bonding conductor between the two."""
    diagram, (one, other) = survey.diagram, finding.where
    ends = [ground_terminal(survey, {p.id for p in ground_parts(survey.graph)} - {item})
            for item in (one, other)]
    if ends[0] is not None and ends[1] is not None:
        title = f"Join {ends[0]} and {ends[1]}"
        yield Fix(title, "choice", connected(diagram, title, ends[0], ends[1], **BONDING))
