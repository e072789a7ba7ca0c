"""What it checks.
The first breaker after each generating set.

Why it matters.
A short in the cable before the panel is then fed until the set's winding or the cable burns.

Fails when.
Its output reaches the boat with no breaker near it, or with one far above what the set gives.

Passes when.
A breaker is built in, or stands near the set.

Limits.
A set that cannot give more than the figure needs none: that is for its maker to say, and is
accepted with that reason.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.alternating import AcSource, FirstDevice, ac_sources, first_devices
from model.analysis.leads import is_covered
from model.survey import Survey
from rules.first_ac_breaker import fitted_at_source, moved_to_source
from rules.fixing import with_fields
from rules.new_device import largest_rating_a
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
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
        "large": "{device}, the first breaker after {generator}, is rated {rated_a}, more than "
                 "{limit_a}: {generator} gives {output_a}.",
    },
    remedy="Fit a breaker at the generating set.",
    sources=("abyc_e11", "iso_ac_source"),
    quiet={"built_in": "a breaker is built in"},
    figures=("generator_distance_m", "generator_sheathed_distance_m", "generator_device_ratio"),
    fix="sometimes",
)


def check(source: AcSource, survey: Survey, profile: Profile) -> Answer:
    """Judge one generating set."""
    built_in = source.part.parameters.get("breaker_built_in")
    if built_in is True:
        return None
    answers = [answer for first in first_devices(survey.graph, source.live)
               if (answer := _judged(source, first, survey, profile)) is not None]
    if not answers:
        return None
    if built_in is None:
        return Missing((f"{source.part.id}.breaker_built_in",), (source.part.id,))
    return next((answer for answer in answers if isinstance(answer, Fault)), answers[0])


def _judged(
    source: AcSource, first: FirstDevice, survey: Survey, profile: Profile
) -> Answer:
    names = {"generator": named(survey.diagram, [source.part.id]),
             "part": named(survey.diagram, [first.part])}
    if first.edge is None:
        return Fault("none", (source.part.id, first.part), {}, names)
    where = (source.part.id, first.edge.item)
    names["device"] = named(survey.diagram, [first.edge.item])
    wires = [survey.diagram.conductors[item] for item in first.conductors]
    cable_m = sum(wire.length_m for wire in wires if wire.length_m is not None)
    limit = profile["generator_sheathed_distance_m" if all(is_covered(wire) for wire in wires)
                    else "generator_distance_m"]
    if cable_m > limit.value:
        return Fault("far", where, {"cable_m": round(cable_m, 2), "limit_m": limit}, names)
    watts, volts = (source.part.parameters.get(name) for name in ("rated_w", "nominal_v"))
    rated_a = first.edge.device.get("rated_a")
    if watts and volts and rated_a:
        output_a = watts / volts
        limit_a = profile.value("generator_device_ratio") * output_a
        if rated_a > limit_a:
            return Fault("large", where, {"rated_a": rated_a, "limit_a": round(limit_a, 1),
                                          "output_a": round(output_a, 1)}, names)
    asked = [f"{wire.id}.length_m" for wire in wires if wire.length_m is None]
    asked += [f"{item}.{name}" for item, name, value in (
        (source.part.id, "rated_w", watts), (source.part.id, "nominal_v", volts),
        (first.edge.item, "rated_a", rated_a)) if value is None]
    return Missing(tuple(asked), where) if asked else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a smaller breaker, one close to the set, or to move the one there is."""
    diagram, item = survey.diagram, finding.where[0]
    if finding.message_id == "large":
        device, rated_a = finding.where[1], largest_rating_a(finding.figures["limit_a"])
        if rated_a:
            title = f"Fit {rated_a:g} A as {named(diagram, [device])}"
            yield Fix(title, "choice", with_fields(diagram, title, device, rated_a=rated_a))
        return
    source = next(one for one in ac_sources(survey.graph) if one.part.id == item)
    yield from fitted_at_source(survey, profile, item, _suits_a(source, profile))
    if finding.message_id == "far":
        yield from moved_to_source(survey, profile, source.live, finding.where[1])


def _suits_a(source: AcSource, profile: Profile) -> float | None:
    """Return the largest breaker that a set's output bears, None when that is not known. [A]."""
    watts, volts = (source.part.parameters.get(name) for name in ("rated_w", "nominal_v"))
    if not watts or not volts:
        return None
    return largest_rating_a(profile.value("generator_device_ratio") * watts / volts) or None
