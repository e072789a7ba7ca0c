"""What it checks.
Lithium batteries in engine spaces.

Why it matters.
Heat ages lithium fast, and above its limit the management disconnects it, on the hottest day, under
engine.

Fails when.
The battery stands in an engine space, and its maker's limit does not cover that heat.

Passes when.
It stands elsewhere, or the limit covers the place.

Limits.
Where the place's own temperature is not recorded, the figure of the rule set is taken.
"""

from __future__ import annotations

from model.analysis.management import lithium_batteries
from model.diagram import Component
from model.survey import Survey
from rules.places import place_of
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named, place_name

HOT = ("engine_space", "petrol_engine_space")

RULE = Rule(
    slug="lithium_in_hot_place",
    number="6.16",
    title="Hot place",
    topic="lithium",
    severity="caution",
    looks_at="each lithium battery whose place is recorded",
    subjects=lambda survey: lithium_batteries(survey.diagram),
    messages={"hot": "{battery} stands in {place}, where it gets {ambient_c}; its maker's limit "
                     "is {max_c}."},
    remedy="Move it out of the engine space.",
    sources=("abyc_e13", "battery_makers"),
    quiet={"covered": "the maker's range covers the heat of the place"},
    figures=("engine_space_c",),
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    place = place_of(survey.diagram, battery)
    if place is None or place.environment not in HOT:
        return None
    max_c = battery.parameters.get("max_c")
    if max_c is None:
        return Missing((f"{battery.id}.max_c",), (battery.id,))
    ambient_c = place.ambient_c if place.ambient_c is not None else profile.value("engine_space_c")
    if max_c >= ambient_c:
        return None
    return Fault("hot", (battery.id,), {"ambient_c": ambient_c, "max_c": max_c}, {
        "battery": named(survey.diagram, [battery.id]),
        "place": place_name(survey.diagram, place.id)})
