"""What it checks.
The device of each windlass, winch and thruster against the motor's working current, what its maker
allows, and the conductor.

Why it matters.
Such a motor draws hundreds of amperes for a minute. Too small a device drops the anchor at the
wrong moment; too large a one lets a stalled motor burn its cable.

Fails when.
The device is below the working current or the maker's smallest, above the maker's largest, or far
above the conductor's ampacity while the motor has no thermal cut-out.

Passes when.
The maker's own figures name a range that this device is within.

Limits.
Whether a stalled motor trips the device in time can only be tried.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.device_sides import DeviceSide
from model.survey import Survey
from rules.allowance import weakest
from rules.fixing import with_fields
from rules.motors import is_short_time_motor
from rules.new_device import chain_behind, larger_device, largest_rating_a, thicker_all
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


def _subjects(survey: Survey) -> Iterator[DeviceSide]:
    """Yield the devices behind which there is one such motor and nothing else."""
    for side in survey.device_sides:
        loads = [survey.diagram.components[item] for item in side.behind.loads]
        if len(loads) == 1 and is_short_time_motor(loads[0]) and loads[0].kind != "starter":
            yield side


RULE = Rule(
    slug="motor_protection_unsuitable",
    number="1.17",
    title="Windlass, winch or thruster protection does not suit the motor",
    topic="overcurrent",
    severity="fault",
    looks_at="each fuse and breaker of a windlass, winch or thruster",
    subjects=_subjects,
    messages={
        "too_small": "{device} of {motor} is rated {rated_a}; the motor needs at least {least_a}.",
        "too_large": "{device} of {motor} is rated {rated_a}; the maker allows at most {most_a}.",
        "conductor": "{device} of {motor} is rated {rated_a}, and {wire} carries{bound} "
                     "{ampacity_a}; with no thermal cut-out in the motor at most {most_a} are "
                     "allowed.",
    },
    remedy="Use the maker's fuse table, and check that a stalled motor trips the device.",
    sources=("abyc_e11", "common_practice"),
    quiet={
        "maker_table": "the maker's own figures allow this device",
        "short_time": "the cable is chosen by the maker's short-time table",
        "cutout": "the motor has a thermal cut-out of its own",
        "starter": "it is an engine's starter, which needs no device",
        "unwired": "no power conductor leads to the motor yet",
    },
    figures=("motor_device_max_ratio",),
    fix="sometimes",
)


def check(side: DeviceSide, survey: Survey, profile: Profile) -> Answer:
    """Judge the device of one motor."""
    (motor,) = in_order(side.behind.loads)
    p = survey.diagram.components[motor].parameters
    where, rated_a = (side.item, motor), side.rated_a
    names = {"device": named(survey.diagram, [side.item]), "motor": named(survey.diagram, [motor])}
    if rated_a is None:
        return Missing((f"{side.item}.rated_a",), where)
    least_a, most_a = _least_a(survey, motor), p.get("maker_fuse_max_a")
    if least_a is not None and rated_a < least_a:
        return Fault("too_small", where, {"rated_a": rated_a, "least_a": least_a}, names)
    if most_a is not None:
        return None if rated_a <= most_a else Fault(
            "too_large", where, {"rated_a": rated_a, "most_a": most_a}, names)
    if p.get("maker_table") is True or p.get("thermal_cutout") is True:
        return None
    return _by_conductor(side, motor, rated_a, names, survey, profile)


def _least_a(survey: Survey, motor: str) -> float | None:
    """Return the maker's smallest fuse, else the working current. [A]."""
    p = survey.diagram.components[motor].parameters
    volts = survey.potentials[survey.graph.number[f"{motor}.+"]].nominal_v
    for name in ("maker_fuse_min_a", "current_a"):
        if name in p:
            return float(p[name])
    return float(p["power_w"]) / volts if "power_w" in p and volts is not None else None


def _by_conductor(
    side: DeviceSide, motor: str, rated_a: float, names: dict[str, str], survey: Survey,
    profile: Profile,
) -> Answer:
    chain = chain_behind(survey, side.item)
    p = survey.diagram.components[motor].parameters
    unknown = () if _least_a(survey, motor) is not None else (f"{motor}.current_a",)
    asked = Missing(unknown, (side.item, motor)) if unknown else None
    if not chain:
        return asked
    suits = weakest(survey, chain, rated_a, profile)
    ratio = profile["motor_device_max_ratio"]
    low_a, high_a = suits.ampacity.low_a, suits.ampacity.high_a
    if low_a is not None and rated_a <= low_a * ratio.value:
        return asked
    if high_a is None or rated_a <= high_a * ratio.value:
        return Missing(suits.missing, (side.item, motor, suits.conductor))
    if "thermal_cutout" not in p:
        return Missing((f"{motor}.thermal_cutout",), (side.item, motor))
    return Fault("conductor", (side.item, motor, suits.conductor),
                 {"rated_a": rated_a, "ampacity_a": high_a,
                  "most_a": round(high_a * ratio.value, 1)},
                 {**names, "wire": named(survey.diagram, [suits.conductor]),
                  "bound": " at most" if suits.ampacity.missing else ""},
                 sources=suits.ampacity.sources, unverified=not suits.ampacity.confirmed)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a device within what motor and maker ask for, or a conductor that allows this one."""
    device, motor = finding.where[:2]
    figures = finding.figures
    if "least_a" in figures:
        yield from larger_device(survey, device, figures["least_a"], profile)
        return
    most_a = largest_rating_a(figures["most_a"])
    if most_a >= (_least_a(survey, motor) or 0.0):
        title = f"Fit {most_a:g} A as {named(survey.diagram, [device])}"
        yield Fix(title, "choice", with_fields(survey.diagram, title, device, rated_a=most_a))
    if "ampacity_a" in figures:
        carries_a = figures["rated_a"] / profile.value("motor_device_max_ratio")
        yield from thicker_all(survey, finding.where[2:], carries_a, profile, "choice")
