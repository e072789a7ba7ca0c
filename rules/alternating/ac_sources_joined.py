"""What it checks.
Whether any positions of the switches put two sources of AC on one bus.

Why it matters.
Two sources that do not run in step tear each other apart within a moment; a generating set feeds
the quay, and kills whoever works on it.

Fails when.
Shore, generating set or inverter can be joined to one another.

Passes when.
A change-over that breaks before it makes, or breakers locked against each other, keep them apart.

Limits.
Two inlets belong to 9.19.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.alternating import AcSource, ac_sources, joined_way, joined_while_turned
from model.survey import Survey
from rules.ac_lock import kept_apart
from rules.ordering import natural
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class TwoSources:
    """Two sources of AC."""

    one: AcSource
    other: AcSource


def _pairs(survey: Survey) -> Iterator[TwoSources]:
    sources = sorted(ac_sources(survey.graph), key=lambda source: natural(source.part.id))
    for one, other in itertools.combinations(sources, 2):
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
    messages={
        "joined": "{one} and {other} can be joined{by}.",
        "overlap": "{switch} makes before it breaks: {one} and {other} are joined while it is "
                   "turned.",
    },
    remedy="Fit a rotary change-over, or breakers that are locked against each other.",
    sources=("abyc_e11_transfer",),
    quiet={"synchronising": "the inverter is made to run in step with the other source",
           "change_over": "a change-over that breaks first, or a lock, keeps them apart",
           "inlets": "both are inlets: 9.19 judges them"},
    fix="sometimes",
)


def check(two: TwoSources, survey: Survey, profile: Profile) -> Answer:
    """Judge one pair."""
    if any(s.part.parameters.get("synchronising") is True for s in (two.one, two.other)):
        return None
    graph, one, other = survey.graph, two.one, two.other
    names = {"one": named(survey.diagram, [one.part.id]),
             "other": named(survey.diagram, [other.part.id])}
    way = joined_way(graph, one.live, other.live)
    if way is None:
        return _turned(two, survey, names)
    devices = tuple(dict.fromkeys(edge.item for edge in way if edge.handle is not None))
    by = f" by way of {named(survey.diagram, devices)}" if devices else ""
    return Fault("joined", (one.part.id, other.part.id, *devices), {}, {**names, "by": by})


def _turned(two: TwoSources, survey: Survey, names: dict[str, str]) -> Answer:
    """Judge the moment in which a change-over between them is turned."""
    sure, switches = joined_while_turned(survey.graph, two.one.live, two.other.live)
    where = (two.one.part.id, two.other.part.id, *switches)
    if not sure:
        return Missing(tuple(f"{item}.break_before_make" for item in switches), where) if (
            switches) else None
    return Fault("overlap", where, {}, {**names, "switch": named(survey.diagram, switches)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a lock between two breakers, or a change-over that breaks first."""
    return kept_apart(survey, finding, {
        source.part.id: source.live for source in ac_sources(survey.graph)})
