"""What it checks.
How many lithium packs are joined in series and side by side.

Why it matters.
The switch inside a pack stands the volts of a few of them. In a longer string, the first one to
open gets all the volts and fails; and packs in series drift apart.

Fails when.
There are more than the maker allows, or packs of 12 V stand in series with neither the maker's word
nor an equaliser.

Passes when.
The counts are within the maker's, or an equaliser keeps them level.

Limits.
Packs drawn as parts of their own are counted side by side, not in series.
"""

from __future__ import annotations

from model.analysis.management import lithium_batteries
from model.diagram import Component
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

COUNTS = {"series_count": ("max_in_series", "in series"),
          "parallel_count": ("max_in_parallel", "side by side")}

RULE = Rule(
    slug="too_many_packs",
    number="6.12",
    title="Too many drop-in packs in series or parallel",
    topic="lithium",
    severity="fault",
    looks_at="each lithium bank of several packs",
    subjects=lambda survey: [
        battery for battery in lithium_batteries(survey.diagram)
        if any(battery.parameters.get(count, 1) > 1 for count in COUNTS)],
    messages={
        "many": "{battery} has {packs_count} packs {how}; its maker allows {limit_count}.",
        "drift": "{battery} has {packs_count} packs of 12 V in series, without an equaliser or "
                 "the maker's word that they may be.",
    },
    remedy="Use fewer packs, or a pack of the whole voltage.",
    sources=("battery_makers",),
    quiet={"approved": "the maker allows so many", "level": "an equaliser keeps them level"},
    figures=("drop_in_v",),
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    names, asked = {"battery": named(survey.diagram, [battery.id])}, []
    for field, (limit, how) in COUNTS.items():
        count, most = battery.parameters.get(field, 1), battery.parameters.get(limit)
        if most is not None and count > most:
            return Fault("many", (battery.id,), {"packs_count": count, "limit_count": most},
                         {**names, "how": how})
        if most is None and count > 1:
            asked.append(f"{battery.id}.{limit}")
    if _drifts(battery, survey, profile):
        return Fault("drift", (battery.id,),
                     {"packs_count": battery.parameters["series_count"]}, names)
    return Missing(tuple(asked), (battery.id,)) if asked else None


def _drifts(battery: Component, survey: Survey, profile: Profile) -> bool:
    """Say whether small packs stand in series with nothing that keeps them level."""
    facts = battery.parameters
    level = any(part.kind == "equaliser" for part in survey.diagram.components.values())
    return (facts.get("series_count", 1) > 1 and "max_in_series" not in facts and not level
            and facts.get("block_nominal_v") == profile.value("drop_in_v"))
