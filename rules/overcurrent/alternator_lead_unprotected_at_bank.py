"""What it checks.
The battery's end of each alternator's own output conductor.

Why it matters.
An alternator limits itself, the bank behind its lead does not. The lead runs along a hot, shaking
engine: a short there is fed by the bank.

Fails when.
The alternator reaches a battery or a house bus by its own conductor and no device stands near the
bank's end.

Passes when.
A device stands near the bank's end, or the bus is itself behind a device that the lead can carry.

Limits.
Whether the device stands the alternator's full output belongs to 1.13.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.leads import Lead
from model.diagram import Conductor
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
from rules.wording import named

RULE = Rule(
    slug="alternator_lead_unprotected_at_bank",
    number="1.12",
    title="Alternator wired straight to a bank without a fuse at the bank",
    topic="overcurrent",
    severity="danger",
    looks_at="each lead from a battery, its busbar or its starter that serves alternators alone",
    subjects=charging_ends,
    messages={
        "none": "{lead} joins {source} to {point} with no fuse or breaker at the {point} end.",
        "far": "{lead} joins {source} to {point}; its device {device} is {length_m} away from "
               "{point}, at most {limit_mm} are allowed.",
    },
    remedy="Fit a fuse at the bank's end, large enough for the alternator's full output.",
    sources=("abyc_e11", "iso_charging"),
    quiet={
        "starter_stud": "the output goes to the starter's stud, or another point of the starter "
                        "circuit, in the factory harness, short, sheathed and rated for full "
                        "output",
        "charger": "it is a charger's lead: 1.10 judges it",
        "feed": "the lead reaches a consumer with no device too: 1.1 judges it",
    },
    figures=("unsheathed_max_mm", "battery_sheathed_max_mm", "tap_sheathed_max_mm",
             "harness_lead_max_m", "next_size_max_ratio"),
    fix="always",
)


def check(end: ChargingEnd, survey: Survey, profile: Profile) -> Answer:
    """Judge the bank's end of what serves one alternator."""
    if not end.alternators or owned_by_feed(end, profile):
        return None
    guarded = is_guarded(end, survey, profile)
    if guarded is True:
        return None
    if isinstance(guarded, Missing):
        return guarded
    excused = _on_starter_stud(end, survey, profile)
    if excused is True:
        return None
    if isinstance(excused, tuple):
        return Missing(excused, (end.start.conductor, *end.sources))
    return _fault(end, survey, profile)


def _fault(end: ChargingEnd, survey: Survey, profile: Profile) -> Fault:
    far, worst = farthest(end, profile)
    points = end.points(survey)
    has_device = worst.kind == "device"
    return Fault(
        "far" if has_device else "none",
        (end.start.conductor, *end.sources, *points, *((worst.item,) if has_device else ())),
        {"length_m": far.length_m, "limit_mm": far.limit} if has_device else {},
        {"lead": named(survey.diagram, [end.start.conductor]),
         "source": named(survey.diagram, end.sources),
         "point": named(survey.diagram, points),
         "device": named(survey.diagram, [worst.item])})


def _on_starter_stud(
    end: ChargingEnd, survey: Survey, profile: Profile
) -> bool | tuple[str, ...]:
    """Say whether the starter-circuit exception covers the lead, or which fields settle it."""
    on_starter = isinstance(end.start, Lead) and end.start.from_starter
    _, worst = farthest(end, profile)
    if not on_starter or worst.conductors != (end.start.conductor,):
        return False
    wire = survey.diagram.conductors[end.start.conductor]
    facts = {
        f"{wire.id}.factory_harness": wire.factory_harness,
        f"{wire.id}.length_m": None if wire.length_m is None else (
            wire.length_m < profile.value("harness_lead_max_m")),
        f"{wire.id}.sheath": None if wire.sheath is None else wire.sheath == "whole",
        **_carries_output(wire, end.sources[0], survey, profile),
    }
    if False in facts.values():
        return False
    return tuple(field for field, fact in facts.items() if fact is None) or True


def _carries_output(
    wire: Conductor, source: str, survey: Survey, profile: Profile
) -> dict[str, bool | None]:
    """Return whether a conductor carries an alternator's full output, by the fields it hangs on;
    None for those that would have to be known.
    """
    rated_a = survey.diagram.components[source].parameters.get("rated_a")
    if rated_a is None:
        return {f"{source}.rated_a": None}
    ampacity = survey.ampacity_range(wire, profile.ampacity_table)
    if ampacity.high_a is not None and ampacity.high_a < rated_a:
        return {f"{wire.id}.size": False}
    if ampacity.low_a is None or ampacity.low_a < rated_a:
        return dict.fromkeys(f"{wire.id}.{field}" for field in ampacity.missing)
    return {}


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse at the bank's end, or to move the one there is."""
    usual, least = (profile.value(name) for name in (
        "alternator_fuse_usual_ratio", "alternator_fuse_min_ratio"))
    yield from (list(end_fixes(finding, survey, profile, usual))
                or end_fixes(finding, survey, profile, least))
