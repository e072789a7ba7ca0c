"""What it checks.
The first breaker after each shore inlet: what it opens, and how far along the cable it is.

Why it matters.
Up to that breaker only the quay's own protects the cable, often far too large for it, and nothing
aboard makes it dead.

Fails when.
There is none, it opens the live conductor alone, or it is farther away than the figure.

Passes when.
A breaker that opens live and neutral is near the inlet.

Limits.
A transformer is no breaker. How far is the sum of the cables on the way.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.alternating import (
    AcSource,
    FirstDevice,
    first_devices,
    inlets,
    opens_neutral,
    poles_field,
)
from model.analysis.leads import is_covered
from model.survey import Survey
from rules.double_pole import double_pole
from rules.first_ac_breaker import fitted_at_source, moved_to_source
from rules.profiles import Figure, Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="no_main_near_inlet",
    number="9.1",
    title="No double-pole main near the inlet",
    topic="alternating",
    severity="danger",
    looks_at="each shore inlet",
    subjects=lambda survey: inlets(survey.graph),
    messages={
        "none": "From {inlet} the cable reaches {part} with no breaker on the way.",
        "single": "{device}, the first breaker after {inlet}, opens the live conductor alone.",
        "far": "{device}, the first breaker after {inlet}, is {cable_m} away along the cable, more "
               "than {limit_m}.",
    },
    remedy="Fit a double-pole breaker at the inlet.",
    sources=("abyc_e11_main", "iso_ac_source"),
    quiet={"sheathed": "the cable is sheathed and inside the longer distance"},
    figures=("inlet_distance_m", "inlet_sheathed_distance_m"),
    fix="sometimes",
    follows=True,
)


def check(inlet: AcSource, survey: Survey, profile: Profile) -> Answer:
    """Judge one inlet by its worst way."""
    answers = [_judged(inlet, first, survey, profile)
               for first in first_devices(survey.graph, inlet.live)]
    faults = [answer for answer in answers if isinstance(answer, Fault)]
    return next(iter(faults), None) or next((a for a in answers if a is not None), None)


def _judged(
    inlet: AcSource, first: FirstDevice, survey: Survey, profile: Profile
) -> Answer:
    names = {"inlet": named(survey.diagram, [inlet.part.id]),
             "part": named(survey.diagram, [first.part])}
    if first.edge is None:
        return Fault("none", (inlet.part.id, first.part), {}, names)
    device, where = first.edge.item, (inlet.part.id, first.edge.item)
    names["device"] = named(survey.diagram, [device])
    both = opens_neutral(survey.graph, first.edge)
    if both is False:
        return Fault("single", where, {}, names)
    wires = [survey.diagram.conductors[item] for item in first.conductors]
    cable_m = sum(wire.length_m for wire in wires if wire.length_m is not None)
    limit = _limit(all(is_covered(wire) for wire in wires), profile)
    if cable_m > limit.value:
        return Fault("far", where, {"cable_m": round(cable_m, 2), "limit_m": limit}, names)
    asked = [poles_field(survey.graph, first.edge)] if both is None else []
    asked += [f"{wire.id}.length_m" for wire in wires if wire.length_m is None]
    return Missing(tuple(asked), where) if asked else None


def _limit(sheathed: bool, profile: Profile) -> Figure:
    return profile["inlet_sheathed_distance_m" if sheathed else "inlet_distance_m"]


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a double-pole breaker in place of a single-pole one, a breaker close to the inlet, or
    to move the one there is.
    """
    item = finding.where[0]
    if finding.message_id == "single":
        yield double_pole(survey, finding.where[1:])
        return
    inlet = next(one for one in inlets(survey.graph) if one.part.id == item)
    yield from fitted_at_source(survey, profile, item, inlet.part.parameters.get("rated_a"))
    if finding.message_id == "far":
        yield from moved_to_source(survey, profile, inlet.live, finding.where[1])
