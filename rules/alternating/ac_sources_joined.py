"""What it checks.
Whether any positions of the switches put two sources of AC on one bus.

Why it matters.
Two sources that do not run in step tear each other apart within a moment; a generating set feeds
the quay, and kills whoever works on it.

Fails when.
Shore, generating set or inverter can be joined to one another.

Passes when.
A change-over, or breakers locked against each other, keep them apart.

Limits.
Two inlets belong to 9.19.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.alternating import AcSource, ac_sources, joined_way
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class TwoSources:
    """Two sources of AC."""

    one: AcSource
    other: AcSource


def _pairs(survey: Survey) -> Iterator[TwoSources]:
    for one, other in itertools.combinations(ac_sources(survey.graph), 2):
        if {one.part.kind, other.part.kind} != {"shore_inlet"}:
            yield TwoSources(one, other)


RULE = Rule(
    slug="ac_sources_joined",
    number="9.6",
    title="Two AC sources can be joined",
    topic="alternating",
    severity="danger",
    looks_at="each two sources of AC",
    subjects=_pairs,
    messages={"joined": "{one} and {other} can be joined{by}."},
    remedy="Fit a rotary change-over, or breakers that are locked against each other.",
    sources=("abyc_e11_transfer",),
    quiet={"synchronising": "the inverter is made to run in step with the other source"},
)


def check(two: TwoSources, survey: Survey, profile: Profile) -> Answer:
    """Judge one pair."""
    if any(s.part.parameters.get("synchronising") is True for s in (two.one, two.other)):
        return None
    way = joined_way(survey.graph, two.one.live, two.other.live)
    if way is None:
        return None
    devices = tuple(dict.fromkeys(edge.item for edge in way if edge.handle is not None))
    by = f" by way of {named(survey.diagram, devices)}" if devices else ""
    return Fault("joined", (two.one.part.id, two.other.part.id, *devices), {}, {
        "one": named(survey.diagram, [two.one.part.id]),
        "other": named(survey.diagram, [two.other.part.id]), "by": by})
