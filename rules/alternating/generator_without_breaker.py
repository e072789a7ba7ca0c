"""What it checks.
The first breaker after each generating set.

Why it matters.
A short in the cable before the panel is then fed until the set's winding or the cable burns.

Fails when.
Its output reaches the boat with no breaker near it.

Passes when.
A breaker is built in, or stands near the set.

Limits.
Near is the same distance along the cable as at a shore inlet.
"""

from __future__ import annotations

from model.analysis.alternating import AcSource, FirstDevice, ac_sources, first_devices
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="generator_without_breaker",
    number="9.17",
    title="Generator without disconnect or overcurrent at source",
    topic="alternating",
    severity="danger",
    looks_at="each generating set",
    subjects=lambda survey: [source for source in ac_sources(survey.graph)
                             if source.part.kind == "generating_set"],
    messages={
        "none": "{generator} reaches {part} with no breaker on the way.",
        "far": "{device}, the first breaker after {generator}, is {cable_m} away, more than "
               "{limit_m}.",
    },
    remedy="Fit a breaker at the generating set.",
    sources=("abyc_e11", "iso_ac_source"),
    quiet={"built_in": "a breaker is built in"},
    figures=("inlet_distance_m",),
)


def check(source: AcSource, survey: Survey, profile: Profile) -> Answer:
    """Judge one generating set."""
    built_in = source.part.parameters.get("breaker_built_in")
    if built_in is True:
        return None
    faults = [fault for first in first_devices(survey.graph, source.live)
              if (fault := _fault(source, first, survey, profile)) is not None]
    if not faults:
        return None
    return faults[0] if built_in is False else Missing(
        (f"{source.part.id}.breaker_built_in",), (source.part.id,))


def _fault(
    source: AcSource, first: FirstDevice, survey: Survey, profile: Profile
) -> Fault | None:
    names = {"generator": named(survey.diagram, [source.part.id]),
             "part": named(survey.diagram, [first.part])}
    if first.edge is None:
        return Fault("none", (source.part.id, first.part), {}, names)
    wires = [survey.diagram.conductors[item] for item in first.conductors]
    cable_m, limit = sum(wire.length_m or 0.0 for wire in wires), profile["inlet_distance_m"]
    if cable_m <= limit.value:
        return None
    return Fault("far", (source.part.id, first.edge.item),
                 {"cable_m": round(cable_m, 2), "limit_m": limit},
                 {**names, "device": named(survey.diagram, [first.edge.item])})
