"""What it checks.
How long the battery of an automatic bilge pump keeps it running on a boat that is left alone.

Why it matters.
A leak that the pump holds for a week sinks the boat in the second, when the battery is flat.

Fails when.
Running at the leak's share of the time for the weeks the boat lies idle, or all the time for the
hours of a flood, takes more than the bank can give.

Passes when.
The bank covers both, or the sun or the shore charges it.

Limits.
The share, the hours and how deep a bank may be drained are figures of the profile. Other loads that
stay on are counted by 5.13.
"""

from __future__ import annotations

from model.analysis.fed_by import fed_by
from model.analysis.load_supply import live_when_off
from model.diagram import Component
from model.survey import Survey
from rules.left_alone import is_charged, unsized, usable_ah
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.safety_loads import with_roles
from rules.wording import named

HOURS_A_WEEK = "week_h"

RULE = Rule(
    slug="pump_battery_cannot_last",
    number="10.4",
    title="Pump battery cannot last",
    topic="safety_circuits",
    severity="caution",
    looks_at="each automatic bilge pump that stays live",
    subjects=lambda survey: [
        pump for pump in with_roles(survey, "bilge_pump_automatic")
        if survey.graph.number[f"{pump.id}.+"] in live_when_off(survey.graph)],
    messages={
        "leak": "A leak that keeps {pump} running {leak_percent} of the time takes {needed_ah} in "
                "the weeks that the boat lies idle; {bank} gives {usable_ah}.",
        "flood": "{pump} running for {flood_h} takes {needed_ah}; {bank} gives {usable_ah}.",
    },
    remedy="Fit a larger bank, a second pump, an alarm that reaches you, or a solar panel.",
    sources=("common_practice",),
    quiet={"charged": "the sun charges the bank, or the boat is left on shore power"},
    figures=("leak_percent", "flood_h", "week_h", "usable_lead_ratio", "usable_lithium_ratio"),
)


def check(pump: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one pump with the batteries that feed it."""
    batteries = in_order(fed_by(survey.graph, [survey.graph.number[f"{pump.id}.+"]]))
    if is_charged(batteries, survey):
        return None
    asked = unsized(batteries, survey)
    if "current_a" not in pump.parameters:
        asked = (f"{pump.id}.current_a", *asked)
    if asked:
        return Missing(asked, (pump.id, *batteries))
    drawn_a, given_ah = pump.parameters["current_a"], usable_ah(batteries, survey, profile)
    names = {"pump": named(survey.diagram, [pump.id]), "bank": named(survey.diagram, batteries)}
    flood_h = profile["flood_h"]
    if drawn_a * flood_h.value > given_ah:
        return Fault("flood", (pump.id, *batteries), {
            "flood_h": flood_h, "needed_ah": drawn_a * flood_h.value, "usable_ah": given_ah},
            names)
    return _leak(pump, batteries, drawn_a, given_ah, names, survey, profile)


def _leak(
    pump: Component, batteries: list[str], drawn_a: float, given_ah: float,
    names: dict[str, str], survey: Survey, profile: Profile,
) -> Answer:
    weeks = survey.diagram.boat.weeks_idle
    if weeks is None:
        return Missing(("boat.weeks_idle",), (pump.id, *batteries))
    leak = profile["leak_percent"]
    needed_ah = drawn_a * leak.value / 100 * profile.value(HOURS_A_WEEK) * weeks
    if needed_ah <= given_ah:
        return None
    return Fault("leak", (pump.id, *batteries), {
        "leak_percent": leak, "needed_ah": round(needed_ah, 1), "usable_ah": given_ah}, names)
