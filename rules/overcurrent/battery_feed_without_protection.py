"""What it checks.
Every positive conductor that leaves a battery, as far as the first fuse or breaker. In a system
without earthed negative, both sides.

Why it matters.
A battery drives thousands of amperes into a short. A conductor without a device before it burns
along its whole length, and nothing but the fire ends it.

Fails when.
A load, panel, inverter, converter, busbar or second battery is reached without any device on the
way. A busbar or panel so near that a device could stand there too is not counted, nor one whose
distance is not stated: the devices on it are measured, or asked for, by 1.2.

Passes when.
A device stands on every way out of the battery.

Limits.
Ways over an emergency link are not followed. Leads of chargers and alternators belong to 1.10 and
1.12, a link with a device at one end to 1.14, thin leads to meters and sense terminals to 1.16,
a load whose only device is in its negative to 1.19.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.leads import Lead, LeadEnd
from model.survey import Survey
from model.units import area_mm2
from rules.distance import distance, reaches_unprotected
from rules.memory_leads import is_memory
from rules.ordering import in_order
from rules.placing_device import (
    all_conductors,
    drawn_a,
    fitted_at_both_ends,
    fitted_at_start,
)
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

RULE = Rule(
    slug="battery_feed_without_protection",
    number="1.1",
    title="Battery conductor with no fuse or breaker",
    topic="overcurrent",
    severity="danger",
    looks_at="each conductor that leaves a battery or a starter circuit",
    subjects=lambda survey: survey.leads,
    messages={
        "no_device": "{lead} leaves {battery} and reaches {reached} with no fuse or breaker on "
                     "the way.",
        "tapped": "{lead} is taken from the starter circuit of {battery} and reaches {reached} "
                  "with no fuse or breaker on the way.",
        "bus": "{lead} leaves {battery} and reaches {reached} after {length_m} with no fuse or "
               "breaker on the way; {limit_mm} are allowed.",
    },
    remedy="Fit a fuse or breaker at the battery, sized to the conductor. If the conductor joins "
           "blocks of one bank inside one box, give it the purpose 'bank link'.",
    sources=("abyc_e11_overcurrent", "cfr_overcurrent", "iso_overcurrent"),
    quiet={
        "starter_circuit": "it is a starter circuit: no device is required there",
        "device_terminal": "the only other end is the device's own terminal",
        "bank_link": "the length lies inside a battery box and joins blocks of one bank",
        "charging": "it serves charging sources alone: 1.10 and 1.12 judge it",
        "meter": "it is a thin lead to a meter: 1.16 judges it",
        "memory": "it feeds a clock, a memory or a tracker: 10.9 judges it",
        "negative": "the load has its only device in its earthed negative: 1.19 judges it",
    },
    figures=("unsheathed_max_mm", "battery_sheathed_max_mm", "tap_sheathed_max_mm",
             "sense_wire_max_mm2"),
    fix="always",
)


def check(lead: Lead, survey: Survey, profile: Profile) -> Answer:
    """Judge one lead with all its branches."""
    if lead.serves.only_charging:
        return None
    from_battery = not lead.from_starter
    reached = [end for end in reaches_unprotected(lead.ends, profile, from_battery)
               if not _is_meter(end, survey, profile) and not is_memory(end, survey)
               and not _in_negative(end, survey)]
    unfused = [*reached, *_batteries(lead, survey)]
    if not unfused:
        return None
    items = tuple(in_order(end.item for end in unfused))
    names = {
        "lead": named(survey.diagram, [lead.conductor]),
        "battery": named(survey.diagram, lead.batteries),
        "reached": named(survey.diagram, items),
    }
    where = (lead.conductor, *lead.batteries, *items)
    if any(end.kind != "bus" for end in unfused):
        return Fault("no_device" if from_battery else "tapped", where, {}, names)
    nearest = min((distance(end, profile, from_battery) for end in unfused),
                  key=lambda far: far.length_m)
    return Fault("bus", where, {"length_m": nearest.length_m, "limit_mm": nearest.limit}, names)


def _is_meter(end: LeadEnd, survey: Survey, profile: Profile) -> bool:
    """Say whether a thin wire leads to a monitor: it is judged as a sense lead."""
    size = survey.diagram.conductors[end.conductors[-1]].size
    thin = size is None or (
        area_mm2(size.standard, size.text) < profile.value("sense_wire_max_mm2"))
    return thin and survey.diagram.components[end.item].kind == "monitor"


def _in_negative(end: LeadEnd, survey: Survey) -> bool:
    """Say whether a load has its device in the negative of an earthed system: that is 1.19's."""
    return any(end.item in device.unguarded and device.system is not None
               and device.system.earthing == "negative_earthed"
               for device in survey.negative_devices)


def _batteries(lead: Lead, survey: Survey) -> list[LeadEnd]:
    """Return second batteries reached without a device, once for each pair."""
    own = min(lead.batteries)
    return [end for end in lead.ends if end.kind == "battery" and own < end.item]


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse at the battery, and one at each end of a link between two."""
    lead = next(lead for lead in survey.leads if lead.conductor == finding.where[0])
    other = next((end for end in lead.ends if end.kind == "battery"), None)
    if other is not None:
        yield from fitted_at_both_ends(survey, lead.conductor, lead.node, other, profile)
        return
    yield from fitted_at_start(
        survey, lead.conductor, lead.node, all_conductors(lead.conductor, lead.ends),
        drawn_a(survey, lead.conductor), profile)
