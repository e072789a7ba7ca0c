"""What it checks.
The interrupting rating of each fuse and breaker against the current that a dead short at its own
terminals would drive through it.

Why it matters.
A device that is asked to break more than it can bursts, or its arc goes on burning in the holder.
The fault it was fitted for is then not interrupted.

Fails when.
The interrupting rating at the volts of the system is below the fault current there. The devices
behind a bank's main are one finding, and a caution where the main breaks the fault. On a lithium
bank a rating behind the main that is not recorded is a caution, with the computed current.

Passes when.
The rating covers the fault current, or what the table asks for by the cranking rating of a lead
bank, or a series rating with the device before it is recorded.

Limits.
Where only the class of a fuse is recorded, the table's figures for that class are taken. A bank's
resistance that is not stated is taken from its cranking rating or its chemistry and capacity.
Main devices of lithium banks belong to 6.6.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.interrupting import Breaking, is_of_lithium
from model.survey import Survey
from rules.breaking import Group, judged, stronger_devices
from rules.profiles import Profile
from rules.rule import Answer, Finding, Fix, Rule


def _groups(survey: Survey) -> Iterator[Group]:
    """Yield each main device alone, and those behind the mains of the same batteries together."""
    behind: dict[tuple[str, ...], list[Breaking]] = {}
    for one in survey.breakings:
        if one.is_main and is_of_lithium(one, survey):
            continue
        if one.is_main:
            yield (one,)
        else:
            behind.setdefault(one.batteries, []).append(one)
    yield from (tuple(group) for group in behind.values())


RULE = Rule(
    slug="interrupting_rating_too_low",
    number="1.7",
    title="Fuse cannot break the fault current",
    topic="overcurrent",
    severity="danger",
    looks_at="each main fuse and breaker of a battery, and those behind it together",
    subjects=_groups,
    messages={
        "too_low": "A short behind {device} drives up to {fault_a} through it; it breaks "
                   "{interrupt_a} at most{assumed}.",
        "several": "Shorts behind {device} drive up to {fault_a} through them; the weakest breaks "
                   "{interrupt_a} at most{assumed}.",
        "unknown": "What {device} can break is not recorded; a short there drives up to {fault_a}, "
                   "from a lithium bank{assumed}.",
    },
    remedy="Fit a fuse with a high interrupting rating at the bank, or one fuse on each battery.",
    sources=("abyc_e11_interrupting", "abyc_e13", "common_practice"),
    quiet={
        "lead_table": "a lead bank's device has the rating that the table asks for by the bank's "
                      "cranking current and volts",
        "large_bank": "the main device of a large bank has its maker's short-circuit figure, or "
                      "20 kA where that is above 10 kA",
        "series_rating": "a device before it breaks the current, and the maker's series rating "
                         "with it is recorded",
    },
    fix="sometimes",
)


def check(group: Group, survey: Survey, profile: Profile) -> Answer:
    """Judge a main device, or those behind the mains of a bank."""
    return judged(group, survey)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer fuses of the class that breaks the fault, and breakers with such a rating."""
    yield from stronger_devices(finding, survey, profile)
