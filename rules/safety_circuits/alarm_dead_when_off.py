"""What it checks.
Whether gas, smoke, CO and water alarms have power with every main switch off.

Why it matters.
Gas leaks while nobody uses it, and water comes while nobody is aboard.

Fails when.
An alarm without a battery of its own is dead with the main switches open.

Passes when.
It stays live from a battery, or has its own.

Limits.
Alarms on which nothing is drawn that feeds them are not judged. Switches of single circuits count
as closed.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.load_supply import batteries_at_will, has_power_when_off
from model.diagram import Component
from model.survey import Survey
from rules.always_fed import from_battery
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.safety_loads import with_roles
from rules.wording import named

ALARMS = ("gas_alarm", "smoke_alarm", "co_alarm", "water_alarm")

RULE = Rule(
    slug="alarm_dead_when_off",
    number="10.5",
    title="Gas, smoke, CO or flood alarm loses power with the main switch",
    topic="safety_circuits",
    severity="fault",
    looks_at="each alarm",
    subjects=lambda survey: with_roles(survey, *ALARMS),
    messages={"dead": "{alarm} is dead with every main switch off."},
    remedy="Move it to the bus that stays live, with a small fuse.",
    sources=("iso_switch", "common_practice"),
    quiet={"own": "it has a battery of its own"},
    fix="sometimes",
)


def check(alarm: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one alarm."""
    graph = survey.graph
    if not batteries_at_will(graph, alarm.id) or has_power_when_off(graph, alarm.id):
        return None
    own = alarm.parameters.get("own_battery")
    if own is None:
        return Missing((f"{alarm.id}.own_battery",), (alarm.id,))
    return None if own else Fault(
        "dead", (alarm.id,), {}, {"alarm": named(survey.diagram, [alarm.id])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to feed it from a battery that feeds it now, with a fuse of its own."""
    yield from from_battery(survey, profile, finding.where[0])
