"""What it checks.
Each fuse and breaker that stands in the output of alternators alone, against their full output.

Why it matters.
A fuse that blows at full output takes the battery away from a running alternator. Its voltage
leaps, and its diodes and whatever hangs on the line are destroyed.

Fails when.
The rating is below the margin over the full output.

Passes when.
The rating has that margin, or the output is capped lower and the owner has recorded the cap.

Limits.
Whether the conductor allows the device belongs to 1.4. A device that feeds loads too belongs to
1.5.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.device_sides import DeviceSide
from model.survey import Survey
from rules.charging_output import alternator_output_a
from rules.new_device import larger_device
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


def _subjects(survey: Survey) -> Iterator[DeviceSide]:
    for side in survey.device_sides:
        if side.behind.alternators and side.behind.only_charging:
            yield side


RULE = Rule(
    slug="alternator_protection_too_small",
    number="1.13",
    title="Alternator fuse so small it may blow at full output",
    topic="overcurrent",
    severity="fault",
    looks_at="each fuse and breaker in the output of alternators",
    subjects=_subjects,
    messages={
        "too_small": "{device} is rated {rated_a}; {source} gives up to {output_a}, for which at "
                     "least {least_a} is needed and {good_a} to {most_a} is usual.",
    },
    remedy="Fit a larger fuse, and a larger cable where it does not allow one. Never let the fuse "
           "blow with the engine running: it unloads the alternator and destroys it.",
    sources=("installers", "common_practice"),
    quiet={
        "capped": "the output is regulated to a lower cap that the owner recorded",
        "charger": "no alternator is behind it: 1.10 and 1.11 judge other charging sources",
    },
    figures=("alternator_fuse_min_ratio", "alternator_fuse_usual_ratio",
             "alternator_fuse_max_ratio"),
    fix="sometimes",
)


def check(side: DeviceSide, survey: Survey, profile: Profile) -> Answer:
    """Judge one device by the output of the alternators behind it."""
    sources = in_order(side.behind.alternators)
    given = {item: alternator_output_a(survey.diagram, item) for item in sources}
    output_a = sum(amperes for amperes in given.values() if amperes is not None)
    least_a = round(output_a * profile.value("alternator_fuse_min_ratio"), 2)
    where = (side.item, *sources)
    if side.rated_a is None:
        return Missing((f"{side.item}.rated_a",), where)
    if side.rated_a < least_a:
        return Fault("too_small", where, {
            "rated_a": side.rated_a, "output_a": output_a, "least_a": least_a,
            "good_a": round(output_a * profile.value("alternator_fuse_usual_ratio"), 2),
            "most_a": round(output_a * profile.value("alternator_fuse_max_ratio"), 2),
        }, {"device": named(survey.diagram, [side.item]),
            "source": named(survey.diagram, sources)})
    unknown = tuple(f"{item}.rated_a" for item, amperes in given.items() if amperes is None)
    return Missing(unknown, where) if unknown else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse with the usual margin, and a thicker cable where it does not allow that."""
    yield from larger_device(survey, finding.where[0], finding.figures["good_a"], profile)
