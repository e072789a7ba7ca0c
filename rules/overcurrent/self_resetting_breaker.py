"""What it checks.
Breakers that close again by themselves.

Why it matters.
A breaker that resets feeds the fault again and again, for hours, with nobody there to see why it
opened.

Fails when.
A breaker marked as automatically resetting protects anything but a single motor with its own
protection.

Passes when.
It is reset by hand and trips even while it is held.

Limits.
How a breaker resets is printed on it. One of which nothing is recorded is not asked about.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.device_sides import DeviceSide
from model.survey import Survey
from rules.fixing import with_fields
from rules.motors import MOTOR_KINDS
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


def _subjects(survey: Survey) -> Iterator[DeviceSide]:
    for side in survey.device_sides:
        if side.edge.device.get("reset") == "automatic":
            yield side


RULE = Rule(
    slug="self_resetting_breaker",
    number="1.18",
    title="Self-resetting breaker in a supply",
    topic="overcurrent",
    severity="fault",
    looks_at="each breaker that resets by itself",
    subjects=_subjects,
    messages={
        "resets": "{device} closes again by itself and feeds {served}.",
    },
    remedy="Fit a breaker that is reset by hand and trips even while it is held.",
    sources=("abyc_e11", "cfr_breaker"),
    quiet={
        "own_motor": "it serves a single motor with a protection of its own",
    },
    fix="always",
)


def check(side: DeviceSide, survey: Survey, profile: Profile) -> Answer:
    """Judge one self-resetting breaker by what it serves."""
    behind = side.behind
    others = behind.converters | behind.chargers | behind.alternators | behind.batteries
    loads = [survey.diagram.components[item] for item in in_order(behind.loads)]
    if len(loads) == 1 and not others and loads[0].kind in MOTOR_KINDS:
        cutout = loads[0].parameters.get("thermal_cutout")
        if cutout is True:
            return None
        if cutout is None:
            return Missing((f"{loads[0].id}.thermal_cutout",), (side.item, loads[0].id))
    served = in_order({*behind.loads, *others})
    return Fault("resets", (side.item, *served), {}, {
        "device": named(survey.diagram, [side.item]),
        "served": named(survey.diagram, served) or "nothing drawn yet"})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a breaker that is reset by hand."""
    device = finding.where[0]
    title = f"Fit a breaker reset by hand as {named(survey.diagram, [device])}"
    yield Fix(title, "mechanical", with_fields(
        survey.diagram, title, device, reset="manual_trip_free"))
