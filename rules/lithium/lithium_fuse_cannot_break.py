"""What it checks.
The interrupting rating of the main fuse of each lithium bank against a dead short behind it.

Why it matters.
A lithium bank drives many times the current of lead into a short. A fuse that cannot break it goes
on burning as an arc.

Fails when.
The rating is below the fault current that the bank's resistance lets through, or is not recorded.

Passes when.
The fuse breaks it: one of a high class, 20 kA for example.

Limits.
Devices behind the main belong to 1.7. A resistance that is not stated is taken from capacity, and
the finding says so.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.interrupting import is_of_lithium
from model.survey import Survey
from rules.breaking import Group, judged, stronger_devices
from rules.profiles import Profile
from rules.rule import Answer, Finding, Fix, Rule


def _mains(survey: Survey) -> Iterator[Group]:
    yield from ((one,) for one in survey.breakings if one.is_main and is_of_lithium(one, survey))


RULE = Rule(
    slug="lithium_fuse_cannot_break",
    number="6.6",
    title="Bank fuse cannot break a lithium short",
    topic="lithium",
    severity="danger",
    looks_at="each main fuse and breaker of a lithium bank",
    subjects=_mains,
    messages={
        "too_low": "A short behind {device} drives up to {fault_a} through it; it breaks "
                   "{interrupt_a} at most{assumed}.",
        "unknown": "What {device} can break is not recorded; a short there drives up to {fault_a}, "
                   "from a lithium bank{assumed}.",
    },
    remedy="Fit a fuse of a high interrupting rating, one for each pack.",
    sources=("abyc_e13", "abyc_e11_interrupting"),
    quiet={"high": "the fuse is of a class that breaks 20 kA"},
    fix="always",
)


def check(group: Group, survey: Survey, profile: Profile) -> Answer:
    """Judge one main device."""
    return judged(group, survey)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse of the class that breaks the fault, or a breaker with such a rating."""
    yield from stronger_devices(finding, survey, profile)
