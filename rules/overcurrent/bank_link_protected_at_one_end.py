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
from rules.distance import distance, reaches_unprotected
from rules.placing_device import all_conductors, drawn_a, fitted_at_start, moved_nearer
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
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
    },
    figures=("unsheathed_max_mm", "battery_sheathed_max_mm", "next_size_max_ratio"),
    fix="always",
)


def check(lead: Lead, survey: Survey, profile: Profile) -> Answer:
    """Judge the end of a link next to one battery."""
    if reaches_unprotected(lead.ends, profile, not lead.from_starter):
        return None
    splitters = [end for end in lead.ends if end.kind == "diode"]
    if splitters:
        return _fault("splitter", lead, splitters[0], (), survey, profile)
    linked = [(distance(end, profile, not lead.from_starter), end) for end in lead.ends
              if end.kind == "device" and _others(end, lead)]
    beyond = [pair for pair in linked if pair[0].verdict == "beyond"]
    if beyond:
        _, end = max(beyond, key=lambda pair: pair[0].length_m)
        return _fault("one_end", lead, end, _others(end, lead), survey, profile)
    unknown = [pair for pair in linked if pair[0].verdict == "unknown"]
    if unknown:
        fields = tuple(dict.fromkeys(name for far, _ in unknown for name in far.missing))
        return Missing(fields, (lead.conductor, *lead.batteries))
    return None


def _others(end: LeadEnd, lead: Lead) -> tuple[str, ...]:
    """Return the other batteries a device leads to, when that is what the lead is for."""
    others = end.behind.batteries - set(lead.batteries)
    is_link = bool(end.relays) or not (end.behind.loads | end.behind.converters)
    return tuple(sorted(others)) if is_link else ()


def _fault(
    message: str, lead: Lead, end: LeadEnd, others: tuple[str, ...], survey: Survey,
    profile: Profile,
) -> Fault:
    far = distance(end, profile, not lead.from_starter)
    return Fault(
        message, (lead.conductor, *lead.batteries, *others, end.item),
        {"length_m": far.length_m, "limit_mm": far.limit} if message == "one_end" else {},
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
