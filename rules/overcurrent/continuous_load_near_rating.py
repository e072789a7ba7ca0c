"""What it checks.
Fuses and breakers whose loads run for hours on end, against the part of the rating that lasts.

Why it matters.
A fuse or thermal breaker near its rating for hours ages, runs hot, and opens on a warm day for no
reason anybody can find.

Fails when.
The loads that run for hours together draw more than the lasting part of the rating.

Passes when.
They draw less, or the maker rates the device for its full current without limit of time.

Limits.
A current above the rating itself belongs to 1.5. How long a load runs is its longest run where
recorded, else its minutes a day.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.device_sides import DeviceSide
from model.survey import Survey
from rules.daily_use import drawn_a
from rules.motors import runs_for_hours
from rules.new_device import larger_device
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="continuous_load_near_rating",
    number="1.6",
    title="Continuous load above 80 percent of a fuse or breaker",
    topic="overcurrent",
    severity="caution",
    looks_at="each fuse and breaker that loads are fed through",
    subjects=lambda survey: (side for side in survey.device_sides if side.behind.loads),
    messages={
        "near": "What runs for hours ({loads}) draws {current_a} through {device} of {rated_a}; at "
                "most {most_a} should last.",
    },
    remedy="Fit the next size up, with a conductor to match.",
    sources=("common_practice",),
    quiet={
        "full_duty": "the device is marked as carrying its full rating for hours",
        "unrated": "the device's rating is not recorded: 1.5 asks for it",
    },
    figures=("continuous_max_ratio", "continuous_from_h"),
    fix="sometimes",
)


def check(side: DeviceSide, survey: Survey, profile: Profile) -> Answer:
    """Judge one device by the loads behind it that run for hours."""
    if side.rated_a is None or side.edge.device.get("full_duty") is True:
        return None
    most_a = round(side.rated_a * profile.value("continuous_max_ratio"), 3)
    loads = [survey.diagram.components[item] for item in in_order(side.behind.loads)]
    from_h = profile.value("continuous_from_h")
    lasting = {load.id: runs_for_hours(load, from_h) for load in loads}
    drawn = {load.id: amperes for load in loads
             if lasting[load.id] is not False and (amperes := drawn_a(load.id, survey))}
    hours = [item for item in drawn if lasting[item] is True]
    sure_a = round(sum(drawn[item] for item in hours), 3)
    if sum(drawn.values()) <= most_a or sure_a > side.rated_a:
        return None
    if sure_a > most_a:
        return Fault("near", (side.item, *hours),
                     {"current_a": sure_a, "rated_a": side.rated_a, "most_a": most_a},
                     {"device": named(survey.diagram, [side.item]),
                      "loads": named(survey.diagram, hours)})
    unsure = [item for item in drawn if lasting[item] is None]
    return Missing(tuple(f"{item}.run_s" for item in unsure), (side.item, *unsure))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the next size up, with thicker conductors where they do not allow it."""
    least_a = finding.figures["current_a"] / profile.value("continuous_max_ratio")
    yield from larger_device(survey, finding.where[0], least_a, profile)
