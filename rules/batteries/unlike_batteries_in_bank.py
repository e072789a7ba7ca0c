"""What it checks.
The batteries of one bank that are drawn singly: whether they are alike.

Why it matters.
In a string the weakest is drained to nothing and then charged backwards by the others. Side by side
the old one drags the new one down to its own age.

Fails when.
They differ in capacity or type, or in age by more than the figure.

Passes when.
They are of one type and capacity, bought together.

Limits.
Different chemistry side by side belongs to 5.1. What is not written down is asked for.
"""

from __future__ import annotations

from model.analysis.banks import Bank
from model.analysis.joinable import post_v
from model.survey import Survey
from rules.dates import months
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="unlike_batteries_in_bank",
    number="5.2",
    title="Unlike batteries in one bank",
    topic="batteries",
    severity="caution",
    looks_at="each bank of several batteries",
    subjects=lambda survey: [bank for bank in survey.banks if len(bank.batteries) > 1],
    messages={"unlike": "{batteries} form one bank and differ in {what}."},
    remedy="Replace the set together.",
    sources=("battery_makers",),
    quiet={"alike": "they are of one type, bought within a year"},
    figures=("age_difference_months",),
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    parts = [survey.diagram.components[item] for item in bank.batteries]
    facts = {"capacity": [part.parameters.get("capacity_ah") for part in parts],
             "type": [part.parameters.get("model_text") for part in parts]}
    differing = [name for name, values in facts.items()
                 if len({value for value in values if value is not None}) > 1]
    ages = [months(part.installed) for part in parts]
    known = [age for age in ages if age is not None]
    if known and max(known) - min(known) > profile.value("age_difference_months"):
        differing.append("age")
    if differing:
        in_series = len({post_v(survey.graph, item) for item in bank.batteries}) > 1
        return Fault("unlike", bank.batteries, {}, {
            "batteries": named(survey.diagram, bank.batteries), "what": " and ".join(differing)},
            severity="fault" if in_series else "caution")
    asked = [f"{part.id}.capacity_ah" for part in parts if "capacity_ah" not in part.parameters]
    asked += [f"{part.id}.installed" for part in parts if months(part.installed) is None]
    return Missing(tuple(asked), bank.batteries) if asked else None
