"""What it checks.
What each battery was made for against what it does.

Why it matters.
The thin plates of a start battery die of deep cycles within a season; the thick plates of a house
battery give too little for a starter in the cold.

Fails when.
A start battery that is the boat's only one, or that cranks nothing, gives more than the figure's
share in a day, or a starter is fed by nothing but a small battery made for the house.

Passes when.
The type fits what it does, or is made for both.

Limits.
With a second bank aboard, house loads on the battery that cranks belong to 2.16. The day is counted
by the minutes written down. What a battery is made for is asked where that settles it.
"""

from __future__ import annotations

from model.analysis.banks import Bank
from model.analysis.circuit_switches import in_use
from model.analysis.fed_by import starters_fed
from model.survey import Survey
from rules.daily_use import daily_use
from rules.left_alone import capacity_ah
from rules.ordering import in_order
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
        "cycles": "{bank:is/are} made for starting and {bank:~gives/give} {taken_ah} in a day; "
                  "{limit_ah} is what such a battery bears.",
        "cranks": "{bank}, {capacity_ah}, {bank:~is/are} made for the house and alone "
                  "{bank:~cranks/crank} {starters}.",
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
    use = daily_use(bank.batteries, survey)
    fed_by = starters_fed(survey.graph, in_use(survey.graph))
    cranked = in_order(starter for starter, fed in fed_by.items()
                       if fed and fed <= set(bank.batteries))
    cycles = duties <= {"start", None} and (use.taken_ah > 0 or bool(use.unsaid)) and (
        len(survey.banks) == 1 or not any(fed & set(bank.batteries) for fed in fed_by.values()))
    cranks = duties <= {"house", None} and bool(cranked)
    if not cycles and not cranks:
        return None
    unsized = tuple(f"{p.id}.capacity_ah" for p in parts if "capacity_ah" not in p.parameters)
    if unsized:
        return Missing(unsized, bank.batteries)
    whole_ah = capacity_ah(bank.batteries, survey)
    names = {"bank": named(survey.diagram, bank.batteries),
             "starters": named(survey.diagram, cranked)}
    limit_ah = round(whole_ah * profile.value("start_depth_ratio"), 1)
    too_deep = cycles and use.taken_ah > limit_ah
    too_small = cranks and whole_ah < profile.value("small_cranking_ah")
    if None in duties and (too_deep or too_small):
        return Missing(tuple(f"{p.id}.duty" for p in parts if "duty" not in p.parameters),
                       bank.batteries)
    if too_deep:
        return Fault("cycles", bank.batteries,
                     {"taken_ah": use.taken_ah, "limit_ah": limit_ah}, names)
    if too_small:
        return Fault("cranks", (*bank.batteries, *cranked), {"capacity_ah": whole_ah}, names)
    return Missing(use.unsaid, bank.batteries) if cycles and use.unsaid else None
