"""What it checks.
What each battery was made for against what it does.

Why it matters.
The thin plates of a start battery die of deep cycles within a season; the thick plates of a house
battery give too little for a starter in the cold.

Fails when.
A start battery that is the boat's only one gives more than the figure's share in a day, or a
starter is fed by nothing but a small battery made for the house.

Passes when.
The type fits what it does, or is made for both.

Limits.
With a second bank aboard, house loads on the start battery belong to 2.16. The day is counted by
the minutes written down.
"""

from __future__ import annotations

from model.analysis.banks import Bank
from model.analysis.fed_by import starters_fed
from model.survey import Survey
from rules.daily_use import daily_ah
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="battery_in_wrong_duty",
    number="5.7",
    title="Deep-cycle block asked to crank, or start block asked to cycle",
    topic="batteries",
    severity="caution",
    looks_at="each bank",
    subjects=lambda survey: survey.banks,
    messages={
        "cycles": "{bank} is made for starting and gives {taken_ah} in a day; {limit_ah} is what "
                  "such a battery bears.",
        "cranks": "{bank}, {capacity_ah}, is made for the house and alone cranks {starters}.",
    },
    remedy="Fit the type that is made for the duty, or one made for both.",
    sources=("common_practice",),
    quiet={"dual": "it is made for both"},
    figures=("start_depth_ratio", "small_cranking_ah"),
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    parts = [survey.diagram.components[item] for item in bank.batteries]
    duties = {part.parameters.get("duty") for part in parts}
    capacities = [part.parameters.get("capacity_ah") for part in parts]
    taken_ah = daily_ah(bank.batteries, survey)
    cranked = [starter for starter, fed in starters_fed(survey.graph).items()
               if fed and fed <= set(bank.batteries)]
    cycles = duties == {"start"} and len(survey.banks) == 1 and taken_ah > 0
    cranks = duties == {"house"} and cranked
    if not cycles and not cranks:
        return None
    if None in capacities:
        return Missing(tuple(f"{p.id}.capacity_ah" for p in parts), bank.batteries)
    whole_ah = float(sum(ah for ah in capacities if ah is not None))
    names = {"bank": named(survey.diagram, bank.batteries),
             "starters": named(survey.diagram, cranked)}
    limit_ah = round(whole_ah * profile.value("start_depth_ratio"), 1)
    if cycles and taken_ah > limit_ah:
        return Fault("cycles", bank.batteries, {"taken_ah": taken_ah, "limit_ah": limit_ah}, names)
    if cranks and whole_ah < profile.value("small_cranking_ah"):
        return Fault("cranks", (*bank.batteries, *cranked), {"capacity_ah": whole_ah}, names)
    return None
