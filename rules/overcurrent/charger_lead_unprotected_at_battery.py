"""What it checks.
The battery's end of the leads of shore chargers, solar and wind controllers and DC-DC chargers.

Why it matters.
The charger limits its own current; the battery at the other end does not. A short on the lead is
fed by the battery.

Fails when.
There is no device within the distance allowed from the battery or its busbar.

Passes when.
A device stands near the battery's end, or the busbar it lands on is itself behind a device that
the lead can carry.

Limits.
Alternators belong to 1.12. An inverter-charger draws from its bank too and belongs to 1.1 to 1.4.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.survey import Survey
from rules.charging_ends import (
    ChargingEnd,
    charging_ends,
    end_fixes,
    farthest,
    is_guarded,
    owned_by_feed,
)
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, quantity

RULE = Rule(
    slug="charger_lead_unprotected_at_battery",
    number="1.10",
    title="Charger lead has no fuse at the battery end",
    topic="overcurrent",
    severity="fault",
    looks_at="each lead from a battery or its busbar that serves chargers alone",
    subjects=charging_ends,
    messages={
        "none": "{lead} runs from {point} to {source}{span} with no fuse or breaker at the "
                "{point} end.",
        "far": "{lead} runs from {point} to {source}; its device {device} is {length_m} away from "
               "{point}, at most {limit_mm} are allowed.",
    },
    remedy="Fit a fuse at the battery's end, about 125 percent of the charger's output and not "
           "above what the conductor carries.",
    sources=("abyc_e11", "iso_charging"),
    quiet={
        "bus_device": "the busbar at the battery's end has a device whose rating the lead carries",
        "factory_lead": "it is a short factory lead with the fuse within the allowed distance",
        "alternator": "it is an alternator's lead: 1.12 judges it",
        "feed": "the lead reaches a consumer with no device too: 1.1 judges it",
    },
    figures=("unsheathed_max_mm", "battery_sheathed_max_mm", "tap_sheathed_max_mm",
             "charger_lead_danger_m", "charging_fuse_ratio", "next_size_max_ratio"),
    fix="always",
)


def check(end: ChargingEnd, survey: Survey, profile: Profile) -> Answer:
    """Judge the battery's end of what serves one charger."""
    if end.alternators or owned_by_feed(end, profile):
        return None
    guarded = is_guarded(end, survey, profile)
    if guarded is True:
        return None
    if isinstance(guarded, Missing):
        return guarded
    return _fault(end, survey, profile)


def _fault(end: ChargingEnd, survey: Survey, profile: Profile) -> Fault:
    far, worst = farthest(end, profile)
    points = end.points(survey)
    has_device = worst.kind == "device"
    danger = far.length_m > profile.value("charger_lead_danger_m")
    return Fault(
        "far" if has_device else "none",
        (end.start.conductor, *end.sources, *points, *((worst.item,) if has_device else ())),
        {"length_m": far.length_m, "limit_mm": far.limit},
        {"lead": named(survey.diagram, [end.start.conductor]),
         "source": named(survey.diagram, end.sources),
         "point": named(survey.diagram, points),
         "device": named(survey.diagram, [worst.item]),
         "span": f", {quantity('length_m', far.length_m, survey.diagram)},"
                     if far.length_m else ""},
        severity="danger" if danger else "fault")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse at the bank's end, or to move the one there is."""
    yield from end_fixes(finding, survey, profile, profile.value("charging_fuse_ratio"))
