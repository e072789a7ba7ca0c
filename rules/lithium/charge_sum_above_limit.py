"""What it checks.
The sum of all that charges a lithium battery at once against what its management or its maker
allows, also with one pack out.

Why it matters.
Above its limit the management opens, at full charging current: the alternator is left alone, and
the boat goes dark.

Fails when.
The sum is above the limit, or above what is left of it when one of several packs is out.

Passes when.
It is below both.

Limits.
Ratings of all sources are summed, those behind relays too: an engine that is run on shore power
gives all at once, and a management unit that then opens unloads the alternator. Lead, and lithium
without a stated limit, belong to 3.13.
"""

from __future__ import annotations

from model.analysis.charging import charged, outlets
from model.analysis.management import lithium_batteries, unit_of
from model.diagram import Component
from model.survey import Survey
from rules.charging_sum import sum_of_all
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="charge_sum_above_limit",
    number="6.7",
    title="Charging sum above the management limit",
    topic="lithium",
    severity="fault",
    looks_at="each lithium battery with a limit of its own or a management unit",
    subjects=lambda survey: [
        b for b in lithium_batteries(survey.diagram)
        if "max_charge_a" in b.parameters or unit_of(survey.diagram, b) is not None],
    messages={
        "above": "{sources} can charge {battery} with {given_a} at once; {limit_a} is its limit.",
        "lost": "{sources} can charge {battery} with {given_a} at once; with one pack out "
                "{limit_a} is its limit.",
    },
    remedy="Lower the limits of the sources.",
    sources=("battery_makers",),
    quiet={"limited": "the management unit limits all the sources"},
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    unit = unit_of(survey.diagram, battery)
    reaching = [outlet for outlet in outlets(survey.graph)
                if battery.id in charged(survey.graph, outlet.node)]
    held = set() if unit is None else set(unit.parameters.get("limits", ()))
    if {outlet.source for outlet in reaching} <= held:
        return None
    limit_a, given = _limit_a(battery, unit), sum_of_all(survey, reaching)
    where, given_a, asked = (battery.id, *given.sources), given.given_a, given.missing
    if limit_a is None:
        return Missing((f"{battery.id}.max_charge_a", *asked), where)
    packs = battery.parameters.get("parallel_count", 1)
    left_a = limit_a * (packs - 1) / packs if packs > 1 else limit_a
    names = {"battery": named(survey.diagram, [battery.id]),
             "sources": named(survey.diagram, given.sources)}
    if given_a > limit_a:
        return Fault("above", where, {"given_a": given_a, "limit_a": limit_a}, names)
    if given_a > left_a:
        return Fault("lost", where, {"given_a": given_a, "limit_a": round(left_a, 1)}, names,
                     severity="caution")
    return Missing(asked, where) if asked else None


def _limit_a(battery: Component, unit: Component | None) -> float | None:
    stated = [battery.parameters.get("max_charge_a"),
              None if unit is None else unit.parameters.get("charge_limit_a")]
    return min((float(limit) for limit in stated if limit is not None), default=None)

