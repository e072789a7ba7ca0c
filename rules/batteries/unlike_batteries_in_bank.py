"""What it checks.
The batteries of one bank that are drawn singly: whether they are alike.

Why it matters.
In a string the weakest is drained to nothing and then charged backwards by the others. Side by side
the old one drags the new one down to its own age.

Fails when.
They differ in chemistry, capacity or type, or in age by more than the figure; in series that is a
fault.

Passes when.
They are of one chemistry, type and capacity, bought together.

Limits.
A bank with different chemistry side by side belongs to 5.1. What is not written down is asked for.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from model.analysis.bank_strings import below
from model.analysis.banks import Bank
from model.analysis.joinable import joined_for_good
from model.survey import Survey
from rules.dates import months
from rules.new_batteries import all_alike
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

FACTS = {"chemistry": "chemistry", "capacity": "capacity_ah", "type": "model_text"}

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
    fix="sometimes",
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    if _is_mixed_side_by_side(bank, survey):
        return None
    parts = [survey.diagram.components[item] for item in bank.batteries]
    in_series = any(below(survey.graph, item) for item in bank.batteries)
    differing = [name for name, field in FACTS.items() if _unlike(bank.batteries, field, survey)]
    ages = [months(part.installed) for part in parts]
    known = [age for age in ages if age is not None]
    if known and max(known) - min(known) > profile.value("age_difference_months"):
        differing.append("age")
    if differing:
        return Fault("unlike", bank.batteries, {}, {
            "batteries": named(survey.diagram, bank.batteries), "what": " and ".join(differing)},
            severity="fault" if in_series else "caution")
    asked = [f"{part.id}.capacity_ah" for part in parts if "capacity_ah" not in part.parameters]
    asked += [f"{part.id}.installed" for part in parts if months(part.installed) is None]
    asked += [f"{part.id}.chemistry" for part in parts
              if in_series and "chemistry" not in part.parameters]
    return Missing(tuple(asked), bank.batteries) if asked else None


def _unlike(batteries: Iterable[str], field: str, survey: Survey) -> bool:
    """Say whether some batteries differ in a field, as far as it is written down."""
    stated = {survey.diagram.components[item].parameters.get(field) for item in batteries}
    return len(stated - {None}) > 1


def _is_mixed_side_by_side(bank: Bank, survey: Survey) -> bool:
    """Say whether batteries side by side are of different chemistry."""
    return any(_unlike({item, *joined_for_good(survey.graph, item)}, "chemistry", survey)
               for item in bank.batteries)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a new set, of each sort there is."""
    yield from all_alike(survey, finding.where)
