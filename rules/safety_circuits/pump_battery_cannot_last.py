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
In a flood all pumps on a bank run, with a leak the largest. The share, the hours and how deep a
bank may be drained are figures of the profile. What a converter loses is not counted. Other loads
that stay on are counted by 5.13.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.load_supply import batteries_when_off
from model.survey import Survey
from rules.always_on import current_a
from rules.left_alone import is_charged, unsized, usable_ah
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.safety_loads import pumps
from rules.wording import named

HOURS_A_WEEK = "week_h"


@dataclass(frozen=True, slots=True)
class Pumping:
    """The automatic pumps that the same batteries keep live with everything off."""

    pumps: tuple[str, ...]
    batteries: tuple[str, ...]


def _pumping(survey: Survey) -> Iterator[Pumping]:
    groups: dict[tuple[str, ...], list[str]] = {}
    for pump in pumps(survey, "bilge_pump_automatic"):
        batteries = batteries_when_off(survey.graph, pump)
        if batteries:
            groups.setdefault(tuple(in_order(batteries)), []).append(pump)
    for batteries, together in groups.items():
        yield Pumping(tuple(in_order(together)), batteries)


RULE = Rule(
    slug="pump_battery_cannot_last",
    number="10.4",
    title="Pump battery cannot last",
    topic="safety_circuits",
    severity="caution",
    looks_at="the automatic bilge pumps that stay live, by the batteries that feed them",
    subjects=_pumping,
    messages={
        "leak": "A leak that keeps {pump} running {leak_percent} of the time takes {needed_ah} in "
                "the weeks that the boat lies idle; {bank:gives/give} {usable_ah}.",
        "flood": "{pump}, running for {flood_h}, would take {needed_ah}; {bank:gives/give} "
                 "{usable_ah}.",
    },
    remedy="Fit a larger bank, a second pump, an alarm that reaches you, or a solar panel.",
    sources=("common_practice",),
    quiet={"charged": "the sun charges the bank, or the boat is left on shore power",
           "dry": "the boat is kept on a trailer or ashore"},
    figures=("leak_percent", "flood_h", "week_h", "usable_lead_ratio", "usable_lithium_ratio"),
)


def check(pumping: Pumping, survey: Survey, profile: Profile) -> Answer:
    """Judge the pumps on one bank: all of them in a flood, the largest with a lasting leak."""
    where, batteries = (*pumping.pumps, *pumping.batteries), pumping.batteries
    if survey.diagram.boat.kept in ("trailer", "ashore") or is_charged(batteries, survey):
        return None
    drawn = {pump: _taken_a(pump, batteries[0], survey) for pump in pumping.pumps}
    asked = (*(_unsaid(pump, batteries[0], survey) for pump, amps in drawn.items() if amps is None),
             *unsized(batteries, survey))
    if asked:
        return Missing(asked, where)
    known = {pump: amps for pump, amps in drawn.items() if amps is not None}
    given_ah, flood_h = usable_ah(batteries, survey, profile), profile["flood_h"]
    names = {"pump": named(survey.diagram, pumping.pumps),
             "bank": named(survey.diagram, batteries)}
    needed_ah = round(sum(known.values()) * flood_h.value, 1)
    if needed_ah > given_ah:
        return Fault("flood", where, {
            "flood_h": flood_h, "needed_ah": needed_ah, "usable_ah": given_ah}, names)
    largest = max(known, key=lambda pump: known[pump])
    return _leak(largest, known[largest], batteries, given_ah, survey, profile)


def _volts(pump: str, battery: str, survey: Survey) -> tuple[float | None, float | None]:
    """Return the nominal volts at a pump, its own where its network's are unknown, and at a
    battery. [V].
    """
    own_v, post_v = (survey.potentials[survey.graph.number[f"{item}.+"]].nominal_v
                     for item in (pump, battery))
    if own_v is None and post_v is not None:
        own_v = survey.diagram.components[pump].parameters.get("nominal_v")
    return own_v, post_v


def _taken_a(pump: str, battery: str, survey: Survey) -> float | None:
    """Return what a running pump takes from a battery, behind a converter by the volts of both;
    None when that is not known. [A].
    """
    own_v, post_v = _volts(pump, battery, survey)
    drawn_a = current_a(survey.diagram.components[pump], own_v)
    if drawn_a is None or own_v == post_v:
        return drawn_a
    return drawn_a * own_v / post_v if own_v and post_v else None


def _unsaid(pump: str, battery: str, survey: Survey) -> str:
    """Return the field that would say what a pump takes from a battery."""
    own_v, post_v = _volts(pump, battery, survey)
    if current_a(survey.diagram.components[pump], own_v) is None:
        return f"{pump}.current_a"
    return f"{pump}.nominal_v" if post_v else f"{battery}.block_nominal_v"


def _leak(
    pump: str, drawn_a: float, batteries: tuple[str, ...], given_ah: float,
    survey: Survey, profile: Profile,
) -> Answer:
    weeks, where = survey.diagram.boat.weeks_idle, (pump, *batteries)
    if weeks is None:
        return Missing(("boat.weeks_idle",), where)
    leak = profile["leak_percent"]
    needed_ah = drawn_a * leak.value / 100 * profile.value(HOURS_A_WEEK) * weeks
    if needed_ah <= given_ah:
        return None
    return Fault("leak", where, {
        "leak_percent": leak, "needed_ah": round(needed_ah, 1), "usable_ah": given_ah},
        {"pump": named(survey.diagram, [pump]), "bank": named(survey.diagram, batteries)})
