"""What it checks.
Each fuse and breaker against the largest current that loads normally draw through it.

Why it matters.
A device that carries more than its rating opens some day in ordinary use, often the day it is
needed, and its contacts and holder run hot until then.

Fails when.
The current, solved over the duty cases (all continuous loads, each short-time load on top of them,
every usual mode), is above the rating.

Passes when.
The rating is at least that current.

Limits.
Loads are looked at only: charging sources belong to 1.11 and 1.13, inverters to 1.25. The device of
a windlass, winch or thruster alone belongs to 1.17.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.design_current import CONTINUOUS, DesignCurrent, running, short_time_loads
from model.analysis.device_sides import DeviceSide
from model.survey import Survey
from rules.motors import is_short_time_motor
from rules.new_device import larger_device
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.unstated import lacks_current
from rules.wording import named, with_name

RULE = Rule(
    slug="protection_smaller_than_normal_current",
    number="1.5",
    title="Fuse smaller than the normal current",
    topic="overcurrent",
    severity="fault",
    looks_at="each fuse and breaker that loads are fed through",
    subjects=lambda survey: (side for side in survey.device_sides if side.behind.loads),
    messages={
        "too_small": "{device} is rated {rated_a}; {current_a} normally run through it, with "
                     "{case}.",
    },
    remedy="Fit a larger device if the conductor allows it, else split the circuit.",
    sources=("common_practice",),
    quiet={
        "slow_motor": "a short-time motor is on, the device is of a slow type and not smaller than "
                      "the maker of the motor asks for",
        "never_together": "the loads are marked as never together",
        "short_time": "it feeds a windlass, winch or thruster alone: 1.17 judges it",
    },
    fix="sometimes",
)


def check(side: DeviceSide, survey: Survey, profile: Profile) -> Answer:
    """Judge one device by the largest current of its loads."""
    loads = in_order(side.behind.loads)
    if all(is_short_time_motor(survey.diagram.components[item]) for item in loads):
        return None
    duty = survey.drawn_by_loads[side.item]
    amperes, rated_a = round(duty.current_a, 2), side.rated_a
    if rated_a is None:
        return Missing((f"{side.item}.rated_a",), (side.item, *loads)) if amperes else None
    if amperes > rated_a and not _is_slow_for_motor(side, duty, rated_a, survey):
        return Fault("too_small", (side.item, *loads),
                     {"rated_a": rated_a, "current_a": amperes},
                     {"device": named(survey.diagram, [side.item]),
                      "case": _case_words(duty, survey)})
    unknown = [item for item in loads if lacks_current(survey.diagram.components[item])]
    if unknown:
        return Missing(tuple(f"{item}.current_a" for item in unknown), (side.item, *unknown))
    return None


def _running(duty: DesignCurrent, survey: Survey) -> str:
    """Return the short-time load whose own case it is, "" when none's."""
    return next((item for item in short_time_loads(survey) if running(item) == duty.case), "")


def _case_words(duty: DesignCurrent, survey: Survey) -> str:
    load = _running(duty, survey)
    if load:
        return f"{with_name(survey.diagram, load)} running"
    return "all lasting loads on" if duty.case == CONTINUOUS else duty.case


def _is_slow_for_motor(
    side: DeviceSide, duty: DesignCurrent, rated_a: float, survey: Survey
) -> bool:
    """Say whether only a short-time motor exceeds the rating, and the device is made for that."""
    motor = survey.diagram.components.get(_running(duty, survey))
    slow = side.edge.device.get("speed") == "slow" or side.edge.device.get("trip") == "thermal"
    if motor is None or not slow:
        return False
    least_a = motor.parameters.get("maker_fuse_min_a")
    lasting = survey.duty.points[CONTINUOUS].element_a.get(side.edge.index, 0.0)
    return least_a is not None and rated_a >= least_a and round(abs(lasting), 2) <= rated_a


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the next larger device, with thicker conductors where they do not allow it."""
    yield from larger_device(survey, finding.where[0], finding.figures["current_a"], profile)
