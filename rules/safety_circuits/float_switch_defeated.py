"""What it checks.
How each float switch is wired: in which pole, and whether the hand switch can make it dead.

Why it matters.
In the negative, any leak to the engine starts the pump or keeps it from stopping, and the pump
corrodes. With a hand switch before it, the last one ashore turns the automatic pump off.

Fails when.
The float switch opens the negative of an earthed system, or it does not work whatever the hand
switch says and no separate pump is worked by hand.

Passes when.
It is in the positive and independent of the hand switch, or another pump is there for the hand.

Limits.
What is inside a pump control is known only by what is recorded of it.
"""

from __future__ import annotations

from model.diagram import Component
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.safety_loads import pumps
from rules.wording import named

RULE = Rule(
    slug="float_switch_defeated",
    number="10.11",
    title="Float switch in the negative, or pump manual switch that kills automatic",
    topic="safety_circuits",
    severity="fault",
    looks_at="each float switch",
    subjects=lambda survey: [part for part in survey.diagram.components.values()
                             if part.kind == "float_switch"],
    messages={
        "negative": "{switch} opens the negative of its pump.",
        "killed": "The hand switch of the pump makes {switch} dead: it does not work whatever the "
                  "hand switch says.",
    },
    remedy="Fit an off-auto-manual switch that leaves the automatic side live, and switch the "
           "positive.",
    sources=("common_practice",),
    quiet={"manual": "a separate pump is worked by hand",
           "insulated": "the system is insulated from earth"},
)


def check(switch: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one float switch."""
    where, names = (switch.id,), {"switch": named(survey.diagram, [switch.id])}
    pole = switch.parameters.get("switched_pole")
    earthed = all(system.earthing != "insulated" for system in survey.diagram.systems.values())
    if pole == "-" and earthed:
        return Fault("negative", where, {}, names)
    asked = () if pole or not earthed else (f"{switch.id}.switched_pole",)
    independent = switch.parameters.get("auto_independent_of_manual")
    if independent is not True and not pumps(survey, "bilge_pump_manual"):
        if independent is False:
            return Fault("killed", where, {}, names)
        asked = (*asked, f"{switch.id}.auto_independent_of_manual")
    return Missing(asked, where) if asked else None
