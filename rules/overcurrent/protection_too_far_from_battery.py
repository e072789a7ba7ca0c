"""What it checks.
The length of conductor between a battery and the first fuse or breaker, conductors in series
added.

Why it matters.
Whatever lies before the device is not protected by it. The longer that piece, the more chances for
chafe and a short that nothing interrupts.

Fails when.
The unprotected length is more than allowed for bare conductors, or more than allowed for sheathed
ones even when it is sheathed all the way.

Passes when.
The device is within the distance that its sheath allows. A device bolted on the battery's post
counts as no length.

Limits.
Ways that reach something without any device belong to 1.1; leads that serve only charging sources
to 1.10 and 1.12, links between two batteries to 1.14, taps of a starter circuit to 1.3.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.analysis.leads import Lead, LeadEnd
from model.survey import Survey
from rules.distance import MM_PER_M, Distance, distance, others_own, reaches_unprotected
from rules.fixing import together, with_fields
from rules.placing_device import all_conductors, drawn_a, fitted_at_start, moved_nearer
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="protection_too_far_from_battery",
    number="1.2",
    title="Fuse too far from the battery",
    topic="overcurrent",
    severity="fault",
    looks_at="each conductor that leaves a battery and ends at a fuse or breaker",
    subjects=lambda survey: survey.leads,
    messages={
        "too_far": "{device} is {length_m} along {conductors} from {battery}; at most {limit_mm} "
                   "are allowed{sheath}.",
    },
    remedy="Move the device to the battery, or sheath the conductor all the way and bring the "
           "device within the distance allowed for that.",
    sources=("abyc_e11_overcurrent", "cfr_overcurrent", "iso_overcurrent"),
    quiet={
        "starter_circuit": "it is a starter circuit",
        "sheathed": "it is sheathed, in conduit or in an enclosure all the way and not longer "
                    "than allowed for that",
        "on_post": "the device is bolted on the battery's post",
        "unprotected": "the lead reaches a consumer with no device at all: 1.1 judges it",
        "charging": "the device serves charging sources alone: 1.10 and 1.12 judge it",
        "link": "the device is for a link to another battery: 1.14 judges it",
    },
    figures=("unsheathed_max_mm", "battery_sheathed_max_mm", "far_mm"),
    fix="always",
)


def check(lead: Lead, survey: Survey, profile: Profile) -> Answer:
    """Judge the device of a lead that is farthest away."""
    if lead.from_starter or reaches_unprotected(lead.ends, profile, True):
        return None
    devices = [end for end in lead.ends if end.kind == "device" and not others_own(end, lead)]
    judged = [(distance(end, profile, True), end) for end in devices]
    beyond = [(far, end) for far, end in judged if far.verdict == "beyond"]
    if beyond:
        return _fault(lead, beyond, survey, profile)
    unknown = [(far, end) for far, end in judged if far.verdict == "unknown"]
    if unknown:
        fields = tuple(dict.fromkeys(field for far, _ in unknown for field in far.missing))
        return Missing(fields, (lead.conductor, *lead.batteries,
                                *(end.item for _, end in unknown)))
    return None


def _fault(
    lead: Lead, beyond: list[tuple[Distance, LeadEnd]], survey: Survey, profile: Profile
) -> Fault:
    far, end = max(beyond, key=lambda pair: pair[0].length_m)
    danger = end.sheathed is False and far.length_m * MM_PER_M > profile.value("far_mm")
    items = tuple(dict.fromkeys(e.item for _, e in beyond))
    return Fault(
        "too_far", (lead.conductor, *lead.batteries, *items),
        {"length_m": far.length_m, "limit_mm": far.limit},
        {
            "device": named(survey.diagram, items),
            "conductors": named(survey.diagram, end.conductors),
            "battery": named(survey.diagram, lead.batteries),
            "sheath": "" if end.sheathed is False else " even when sheathed all the way",
        },
        severity="danger" if danger else "fault",
    )


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to move the device, to sheathe its lead where that suffices, or to fit another."""
    lead = next(lead for lead in survey.leads if lead.conductor == finding.where[0])
    ends = [end for end in lead.ends if end.item in finding.where]
    (end, *others) = sorted(ends, key=lambda end: -end.length_m)
    if not others:
        yield from moved_nearer(survey, end.item, end.conductors, profile, "choice")
    if end.length_m * MM_PER_M <= profile.value("battery_sheathed_max_mm"):
        title = f"Sheathe {named(survey.diagram, end.conductors)} all the way"
        yield Fix(title, "choice", together(survey.diagram, title, *(
            partial(with_fields, title=title, item=item, sheath="whole")
            for one in ends for item in one.conductors)))
    least_a = max(drawn_a(survey, lead.conductor), *(one.rated_a or 0.0 for one in ends), 0.0)
    yield from fitted_at_start(
        survey, lead.conductor, lead.node, all_conductors(lead.conductor, lead.ends),
        least_a, profile, "choice", snug=True)
