"""What it checks.
Each lithium battery: whether something watches its cells and can disconnect it.

Why it matters.
A lithium cell that is charged too full burns, and one that is drained too far is dead for good.
Nobody can see it coming but electronics at each cell.

Fails when.
The battery has no management, or an external one that works no contactor on the drawing, or
contactors whose opening leaves a charging source or a load joined to the battery.

Passes when.
The management is inside, or an external unit works contactors that part the battery.

Limits.
Whether it is set right is only in the maker's sheet. What is on the wrong one of two buses belongs
to 6.10, feeds that are meant to stay live may be before the contactors.
"""

from __future__ import annotations

from model.analysis.management import driven, lithium_batteries, unit_of
from model.diagram import Component
from model.survey import Survey
from rules.left_joined import all_joined, left_joined
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="lithium_without_management",
    number="6.1",
    title="No battery management or no way for it to disconnect",
    topic="lithium",
    severity="danger",
    looks_at="each lithium battery",
    subjects=lambda survey: lithium_batteries(survey.diagram),
    messages={
        "none": "{battery} is of lithium and has no management.",
        "powerless": "{unit} watches {battery} and works no contactor: it cannot disconnect it.",
        "bypassed": "{unit} watches {battery}, and the contactors it opens leave {parts} joined "
                    "to it.",
    },
    remedy="Fit a managed battery, or a unit with a contactor.",
    sources=("abyc_e13", "iso_lithium"),
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    management = battery.parameters.get("management")
    if management is None:
        return Missing((f"{battery.id}.management",), (battery.id,))
    names = {"battery": named(survey.diagram, [battery.id])}
    if management == "none":
        return Fault("none", (battery.id,), {}, names)
    if management == "internal":
        return None
    unit = unit_of(survey.diagram, battery)
    if unit is None:
        return Missing((f"{battery.id}.management_unit",), (battery.id,))
    names["unit"] = named(survey.diagram, [unit.id])
    contactors = driven(survey.diagram, unit)
    if not contactors:
        return Fault("powerless", (battery.id, unit.id), {}, names)
    left = left_joined(survey, battery, unit)
    if {"charge", "load"} <= set(contactors.values()) and (
            left != all_joined(survey, battery, unit)):
        return None
    found = (*left.sources, *left.loads)
    if found:
        return Fault("bypassed", (battery.id, unit.id, *found), {},
                     {**names, "parts": named(survey.diagram, found)})
    asked = tuple(f"{item}.role" for item in left.unsaid)
    return Missing(asked, (battery.id, unit.id)) if asked else None
