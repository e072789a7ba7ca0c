"""What it checks.
Conductors that start at a busbar, stud, panel bus or starter terminal, where a heavier conductor
arrives.

Why it matters.
The device before the heavy point is sized to the heavy conductor. A thin one tapped from it can
burn without that device ever noticing.

Fails when.
The nearest device before the tap is rated above what the tapped conductor allows (see 1.4), and no
device stands within the distance allowed from the tap. On a starter circuit there is no device
before the tap at all.

Passes when.
The conductor's ampacity covers the device before the tap, or it has its own device close to it.

Limits.
A conductor that starts at the device itself belongs to 1.4, one that reaches a consumer with no
device at all to 1.1, the leads of charging sources to 1.10 and 1.12.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.leads import Lead, is_covered
from model.analysis.taps import Circuit
from model.survey import Survey
from rules.allowance import Allowance, is_as_heavy_as_feed, weakest
from rules.distance import distance, missing_length, others_own, reaches_unprotected
from rules.placing_device import all_conductors, drawn_a, fitted_at_start, moved_nearer
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


def _subjects(survey: Survey) -> Iterator[Lead | Circuit]:
    yield from (lead for lead in survey.leads if lead.from_starter)
    yield from survey.taps


RULE = Rule(
    slug="unprotected_tap",
    number="1.3",
    title="Smaller conductor tapped from a heavy point without its own protection",
    topic="overcurrent",
    severity="danger",
    looks_at="each conductor that starts at a busbar, stud, panel bus or starter circuit",
    subjects=_subjects,
    messages={
        "thin": "{lead} starts at {point} behind {upstream} of {rated_a}; it carries {ampacity_a} "
                "and has no device of its own within {limit_mm}.",
        "starter": "{lead} is taken from the starter circuit of {battery}; its device {device} is "
                   "{length_m} away, at most {limit_mm} are allowed.",
    },
    remedy="Fit a fuse at the tap.",
    sources=("abyc_e11_overcurrent", "cfr_overcurrent", "iso_overcurrent"),
    quiet={
        "starter_circuit": "it is the starter circuit itself",
        "covered": "the conductor's ampacity covers the device before the tap",
        "as_heavy": "it is as heavy as the feed, for which 1.4 finds the device too large",
        "enclosed": "it is a pigtail inside an enclosed panel",
        "alternator": "it is the alternator's lead: 1.12 judges it",
        "link": "the device is for a link to another battery: 1.14 judges it",
        "battery": "a battery feeds the point with no device before it: 1.2 judges its leads",
        "own_device": "it has its own device close to the tap",
        "unprotected": "it reaches a consumer with no device at all: 1.1 judges it",
    },
    figures=("unsheathed_max_mm", "tap_sheathed_max_mm", "next_size_max_ratio"),
    fix="always",
    follows=True,
)


def check(subject: Lead | Circuit, survey: Survey, profile: Profile) -> Answer:
    """Judge one tap, from a starter circuit or from behind a device."""
    if subject.serves.only_charging:
        return None
    if survey.diagram.conductors[subject.conductor].in_enclosure:
        return None
    if isinstance(subject, Lead):
        return _from_starter(subject, survey, profile)
    return _behind_device(subject, survey, profile)


def _from_starter(lead: Lead, survey: Survey, profile: Profile) -> Answer:
    if reaches_unprotected(lead.ends, profile, False):
        return None
    judged = [(distance(end, profile, False), end) for end in lead.ends
              if end.kind == "device" and not others_own(end, lead)]
    beyond = [(far, end) for far, end in judged if far.verdict == "beyond"]
    if beyond:
        far, end = max(beyond, key=lambda pair: pair[0].length_m)
        items = tuple(dict.fromkeys(e.item for _, e in beyond))
        return Fault("starter", (lead.conductor, *lead.batteries, *items),
                     {"length_m": far.length_m, "limit_mm": far.limit},
                     {"lead": named(survey.diagram, [lead.conductor]),
                      "battery": named(survey.diagram, lead.batteries),
                      "device": named(survey.diagram, items)})
    return missing_length(lead.conductor, judged)


def _behind_device(tap: Circuit, survey: Survey, profile: Profile) -> Answer:
    if tap.node in survey.unfused_reach:
        return None
    judged = [(distance(end, profile, False), end) for end in tap.ends]
    near = {far.verdict if end.kind in ("device", "bus") else "beyond" for far, end in judged}
    if near == {"within"}:
        return None
    ratings = Missing(tuple(f"{item}.rated_a" for item in tap.guard.unknown),
                      (tap.conductor, *tap.guard.unknown))
    if tap.guard.rated_a is None:
        return ratings
    suits = weakest(survey, tap.chain, tap.guard.rated_a, profile)
    if suits.verdict in ("covered", "next_size"):
        return None
    if tap.guard.unknown:
        return ratings
    if suits.verdict == "unknown":
        return Missing(suits.missing, (suits.conductor, tap.at, tap.guard.device))
    if near and "beyond" not in near:
        return missing_length(tap.conductor, judged)
    if is_as_heavy_as_feed(survey, tap.guard.device, suits, profile):
        return None
    return _thin(tap, suits, survey, profile)


def _thin(tap: Circuit, suits: Allowance, survey: Survey, profile: Profile) -> Fault:
    wire = survey.diagram.conductors[suits.conductor]
    limit = profile["tap_sheathed_max_mm" if is_covered(wire) else "unsheathed_max_mm"]
    return Fault(
        "thin", (suits.conductor, tap.at, tap.guard.device),
        {"rated_a": suits.rated_a, "ampacity_a": suits.ampacity_a, "limit_mm": limit},
        {"lead": named(survey.diagram, [suits.conductor]),
         "point": named(survey.diagram, [tap.at]),
         "upstream": named(survey.diagram, [tap.guard.device])},
        sources=(*suits.ampacity.sources, profile["next_size_max_ratio"].source),
        unverified=not suits.ampacity.confirmed)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to move the tap's own device to its start, or a fuse there."""
    first, at = finding.where[:2]
    tap = next(s for s in _subjects(survey) if first == s.conductor or (
        isinstance(s, Circuit) and s.at == at and first in s.chain))
    if len(tap.ends) == 1 and tap.ends[0].kind == "device":
        yield from moved_nearer(survey, tap.ends[0].item, tap.ends[0].conductors, profile)
        return
    yield from fitted_at_start(
        survey, tap.conductor, tap.node, all_conductors(tap.conductor, tap.ends),
        drawn_a(survey, tap.conductor), profile)
