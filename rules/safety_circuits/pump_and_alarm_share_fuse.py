"""What it checks.
Whether a bilge pump and a high-water alarm hang on one fuse.

Why it matters.
The alarm is there for the day the pump fails. When the pump's motor blows the fuse, the alarm is
dumb.

Fails when.
The first fuse, breaker or way on the pump's way back is one that the alarm cannot do without,
whatever smaller fuse is behind it.

Passes when.
Each has its own, or the pump has a fuse of its own built in that opens first.

Limits.
Whether the pump's fault opens devices farther back than its first is not judged.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.load_supply import blown_by, needed_by
from model.survey import Survey
from rules.ordering import in_order
from rules.own_feed import own_feed
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.safety_loads import pumps
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Shared:
    """A device with a pump and an alarm behind it."""

    device: str
    pump: str
    alarm: str


def _shared(survey: Survey) -> Iterator[Shared]:
    pumping = set(pumps(survey, "bilge_pump_automatic", "bilge_pump_manual"))
    warning = set(pumps(survey, "water_alarm"))
    for alarm in in_order(warning):
        for device in in_order(needed_by(survey.graph, alarm)):
            both = in_order(pump for pump in pumping if device in blown_by(survey.graph, pump))
            yield from (Shared(device, pump, alarm) for pump in both[:1])


RULE = Rule(
    slug="pump_and_alarm_share_fuse",
    number="10.3",
    title="Pump and alarm share a fuse",
    topic="safety_circuits",
    severity="caution",
    looks_at="each device with a bilge pump and a water alarm behind it",
    subjects=_shared,
    messages={"shared": "{pump} and {alarm} share {device}: when the pump blows it, the alarm is "
                        "dead."},
    remedy="Give the alarm a fuse of its own.",
    sources=("common_practice",),
    quiet={"own": "the alarm has a battery of its own",
           "built_in": "a fuse built into the pump opens first",
           "first": "a fuse of the pump alone opens before the shared one",
           "second": "the alarm has a second way past the pump's fuse"},
    fix="sometimes",
)


def check(shared: Shared, survey: Survey, profile: Profile) -> Answer:
    """Judge one device."""
    own = survey.diagram.components[shared.alarm].parameters.get("own_battery")
    where = (shared.device, shared.pump, shared.alarm)
    if own is None:
        return Missing((f"{shared.alarm}.own_battery",), where)
    return None if own else Fault("shared", where, {}, {
        name: named(survey.diagram, [item])
        for name, item in zip(("device", "pump", "alarm"), where, strict=True)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the alarm a way or fuse of its own."""
    device, _, alarm = finding.where
    yield from own_feed(survey, profile, alarm, device)
