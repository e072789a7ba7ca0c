"""What it checks.
The strongest shore charger of each lead bank against the bank's ampere-hours.

Why it matters.
A lead bank that gets less than a tenth of its ampere-hours takes longer than a night to fill, and
in daily use it is never full.

Fails when.
The strongest shore charger gives less than a tenth, and no sun keeps the bank full.

Passes when.
It gives more, or solar panels charge the bank too.

Limits.
A bank without shore charger is not looked at. How much sun there is counts in the energy day.
"""

from __future__ import annotations

from model.analysis.banks import Bank
from model.analysis.charging import FROM_AC, charged, is_lithium, outlets
from model.analysis.joinable import at_highest_post
from model.survey import Survey
from rules.charging_output import output_at
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="charged_too_slowly",
    number="3.14",
    title="Charging too slowly for the bank",
    topic="charging",
    severity="note",
    looks_at="each bank that shore power charges",
    subjects=lambda survey: survey.banks,
    messages={
        "slow": "{charger} gives {charger_a}, less than {least_percent} of the {bank_ah} of "
                "{bank}.",
    },
    remedy="Fit a larger charger, or more solar.",
    sources=("common_practice",),
    quiet={
        "sun": "solar panels charge the bank too",
        "lithium": "it is a lithium bank",
    },
    figures=("charger_min_percent",),
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank by its strongest charger."""
    parts = [survey.diagram.components[item] for item in bank.batteries]
    reaching = [outlet for outlet in outlets(survey.graph)
                if charged(survey.graph, outlet.node) & set(bank.batteries)]
    kinds = {survey.diagram.components[outlet.source].kind for outlet in reaching}
    if "solar_controller" in kinds or not kinds & set(FROM_AC) or any(map(is_lithium, parts)):
        return None
    given = [output_at(survey, outlet) for outlet in reaching
             if survey.diagram.components[outlet.source].kind in FROM_AC]
    known = [(out.amperes, out.source) for out in given if out.amperes is not None]
    unknown = (*(field for out in given for field in out.missing),
               *(f"{part.id}.{name}" for part in parts for name in ("chemistry", "capacity_ah")
                 if name not in part.parameters))
    if unknown:
        return Missing(unknown, bank.batteries)
    charger_a, charger = max(known)
    bank_ah = sum(survey.diagram.components[item].parameters["capacity_ah"]
                  for item in at_highest_post(survey.graph, bank.batteries))
    least = profile["charger_min_percent"]
    if 100 * charger_a / bank_ah >= least.value:
        return None
    return Fault("slow", (*bank.batteries, charger),
                 {"charger_a": charger_a, "least_percent": least, "bank_ah": bank_ah},
                 {"charger": named(survey.diagram, [charger]),
                  "bank": named(survey.diagram, bank.batteries)})
