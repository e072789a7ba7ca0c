"""What it checks.
Conductors that join two batteries over a relay, a splitter or another tie, at both of their ends.

Why it matters.
Such a cable is fed from both sides. A fuse at one end leaves it to the other battery.

Fails when.
The piece next to a battery has no device within the distance allowed, although the way leads to
another battery or to a splitter.

Passes when.
Each battery has its own device near its post.

Limits.
An emergency link with its two leads is starter circuit and exempt. A link with no device at all
belongs to 1.1.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.leads import Lead, LeadEnd
from model.survey import Survey
from rules.distance import distance, linked_batteries, reaches_unprotected
from rules.placing_device import all_conductors, drawn_a, fitted_at_start, moved_nearer
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule, Sourced
from rules.wording import named

RULE = Rule(
    slug="bank_link_protected_at_one_end",
    number="1.14",
    title="Cable between two batteries protected at one end only",
    topic="overcurrent",
    severity="danger",
    looks_at="each conductor that leaves a battery and leads to another one",
    subjects=lambda survey: survey.leads,
    messages={
        "one_end": "{lead} joins {battery} to {other}; its first device seen from {battery}, "
                   "{device}, is {length_m} away, at most {limit_mm} are allowed.",
        "splitter": "{lead} joins {battery} to {device} with no fuse or breaker at the {battery} "
                    "end.",
    },
    remedy="Fit a fuse at each end.",
    sources=("abyc_e11", "iso_overcurrent"),
    quiet={
        "starter_circuit": "it is an emergency link or another piece of starter circuit",
        "within": "the unprotected end is within the distance allowed",
        "unprotected": "the lead reaches a consumer with no device at all: 1.1 judges it",
        "consumers": "the device feeds consumers of this battery: 1.2 judges it",
    },
    figures=("unsheathed_max_mm", "battery_sheathed_max_mm", "tap_sheathed_max_mm"),
    fix="always",
)


def check(lead: Lead, survey: Survey, profile: Profile) -> Answer:
    """Judge the end of a link next to one battery."""
    from_battery = not lead.from_starter
    if reaches_unprotected(lead.ends, profile, from_battery):
        return None
    splitter = next((end for end in lead.ends if end.kind == "diode"), None)
    if splitter is not None:
        return _fault("splitter", lead, splitter, {}, survey)
    linked = [(distance(end, profile, from_battery), end) for end in lead.ends
              if linked_batteries(end, lead)]
    beyond = [pair for pair in linked if pair[0].verdict == "beyond"]
    if beyond:
        far, end = max(beyond, key=lambda pair: pair[0].length_m)
        return _fault("one_end", lead, end,
                      {"length_m": far.length_m, "limit_mm": far.limit}, survey)
    unknown = [pair for pair in linked if pair[0].verdict == "unknown"]
    if unknown:
        fields = tuple(dict.fromkeys(name for far, _ in unknown for name in far.missing))
        return Missing(fields, (lead.conductor, *lead.batteries))
    return None


def _fault(
    message: str, lead: Lead, end: LeadEnd, figures: dict[str, float | Sourced], survey: Survey
) -> Fault:
    others = linked_batteries(end, lead)
    return Fault(
        message, (lead.conductor, *lead.batteries, *others, end.item), figures,
        {"lead": named(survey.diagram, [lead.conductor]),
         "battery": named(survey.diagram, lead.batteries),
         "other": named(survey.diagram, others),
         "device": named(survey.diagram, [end.item])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse at the battery's end, or to move the one on its own lead."""
    lead = next(lead for lead in survey.leads if lead.conductor == finding.where[0])
    end = next(end for end in lead.ends if end.item == finding.where[-1])
    offered = list(moved_nearer(survey, end.item, end.conductors, profile)) if (
        end.kind == "device") else []
    least_a = max(drawn_a(survey, lead.conductor), end.rated_a or 0.0)
    yield from offered or fitted_at_start(
        survey, lead.conductor, lead.node, all_conductors(lead.conductor, lead.ends), least_a,
        profile, snug=end.rated_a is not None)
