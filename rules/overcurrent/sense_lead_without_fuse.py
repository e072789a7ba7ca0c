"""What it checks.
Thin wires from a battery or busbar to meters, battery monitors, regulators' sense terminals, relay
coils and data modules.

Why it matters.
Such a wire carries next to nothing, so it is thin and runs far, and behind it stands the whole
battery. A short along it turns it red hot at once.

Fails when.
The wire has no fuse within the distance allowed from where it starts, and nothing before that
point is small enough for it.

Passes when.
A fuse stands near the start, or the device before the start covers the wire.

Limits.
Thick conductors are judged by 1.1 and 1.3. A wire on the negative side is not looked at.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.analysis.protection import NO_DEVICE
from model.analysis.sense_leads import SenseLead
from model.survey import Survey
from model.units import area_mm2
from rules.allowance import weakest
from rules.distance import MM_PER_M
from rules.fixing import inserted, together, with_fields
from rules.highest_volts import highest_charging_v
from rules.placing_device import moved_nearer
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="sense_lead_without_fuse",
    number="1.16",
    title="Voltage-sense or monitor lead taken from a battery without a fuse",
    topic="overcurrent",
    severity="fault",
    looks_at="each thin wire to a meter, a sense terminal, a coil or a data module",
    subjects=lambda survey: survey.sense_leads,
    messages={
        "none": "{lead} runs from {start} to {meter} with no fuse.",
        "far": "{lead} runs from {start} to {meter}; its fuse {device} is {length_m} away from "
               "{start}, at most {limit_mm} are allowed.",
    },
    remedy="Fit an in-line fuse of 1 to 5 A where the wire starts.",
    sources=("abyc_e11_overcurrent", "iso_overcurrent"),
    quiet={
        "negative": "the wire is on the negative side, of a shunt for example",
        "resistors": "it is a sense pair supplied with resistors built in",
        "thick": "it is no thin wire: 1.1 and 1.3 judge it",
        "covered": "the device before its start is small enough for it",
        "unfed": "nothing feeds its start, or a device of unknown rating: 1.4 asks for that",
    },
    figures=("unsheathed_max_mm", "sense_wire_max_mm2", "sense_fuse_a"),
    fix="sometimes",
)


def check(lead: SenseLead, survey: Survey, profile: Profile) -> Answer:
    """Judge one lead from its start to its first fuse."""
    before_a = (NO_DEVICE, NO_DEVICE) if lead.node in survey.unfused_reach else (
        survey.largest_before(lead.node))
    if before_a is None or _has_resistors(lead, survey):
        return None
    limit, wires = profile["unsheathed_max_mm"], lead.conductors
    lengths = {item: survey.diagram.conductors[item].length_m for item in wires}
    length_m = sum(length for length in lengths.values() if length is not None)
    if lead.device and length_m * MM_PER_M <= limit.value:
        unknown = tuple(f"{item}.length_m" for item, length in lengths.items() if length is None)
        return Missing(unknown, (*wires, lead.meter)) if unknown else None
    excused = _thick_or_covered(lead, before_a, survey, profile)
    if excused is True:
        return None
    if isinstance(excused, Missing):
        return excused
    start = survey.graph.component_of[lead.node]
    names = {"lead": named(survey.diagram, wires), "start": named(survey.diagram, [start]),
             "meter": named(survey.diagram, [lead.meter])}
    if not lead.device:
        return Fault("none", (wires[0], start, lead.meter), {}, names)
    return Fault("far", (wires[0], start, lead.meter, lead.device),
                 {"length_m": length_m, "limit_mm": limit},
                 {**names, "device": named(survey.diagram, [lead.device])})


def _has_resistors(lead: SenseLead, survey: Survey) -> bool:
    meter = survey.diagram.components[lead.meter]
    return lead.terminal == "sense" and meter.parameters.get("sense_resistors_built_in") is True


def _thick_or_covered(
    lead: SenseLead, before_a: tuple[float, float], survey: Survey, profile: Profile
) -> Missing | bool:
    """Say whether the lead is thick, or the device before it small enough for all that is known;
    or what is missing.
    """
    least_a, most_a = before_a
    where = (*lead.conductors, lead.meter)
    for item in lead.conductors:
        size = survey.diagram.conductors[item].size
        if size is None:
            return Missing((f"{item}.size",), where)
        if area_mm2(size.standard, size.text) >= profile.value("sense_wire_max_mm2"):
            return True
    suits = weakest(survey, lead.conductors, most_a, profile)
    if suits.verdict in ("covered", "next_size") or least_a < most_a:
        return True
    return Missing(suits.missing, where) if suits.verdict == "unknown" else False


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a small in-line fuse where the wire starts, or to move the one there is."""
    lead = next(s for s in survey.sense_leads if finding.where[0] in s.conductors)
    if lead.device:
        yield from moved_nearer(survey, lead.device, lead.conductors, profile)
        return
    wire, start = survey.diagram.conductors[lead.conductors[-1]], finding.where[1]
    end = next((end for end in wire.ends() if end.component == start), None)
    nominal_v = survey.potentials[lead.node].nominal_v
    if end is None or nominal_v is None:
        return
    rated_a = profile.value("sense_fuse_a")
    length_m = profile.value("unsheathed_max_mm") / MM_PER_M / 2
    title = f"Fit a fuse of {rated_a:g} A where {named(survey.diagram, [wire.id])} starts"
    yield Fix(title, "mechanical", together(
        survey.diagram, title,
        partial(with_fields, title=title, item=wire.id, cores=("+",)),
        partial(inserted, title=title, conductor=wire.id, at=f"{end.component}.{end.terminal}",
                kind="fuse", length_m=min(length_m, wire.length_m or length_m), rated_a=rated_a,
                rated_dc_v=highest_charging_v(nominal_v, survey, profile)[0])))
