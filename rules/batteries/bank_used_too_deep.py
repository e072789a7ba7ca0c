"""What it checks.
What the loads of a bank take in a day, by the minutes written down, against what it may give.

Why it matters.
Every deep night costs a lead battery months of its life.

Fails when.
The day takes more than the usable share of the bank.

Passes when.
It takes less.

Limits.
Only loads with minutes a day count, so that the true day is larger. Until minutes are written for
one load of the bank nothing is asked. A load counts whether its switch or relay usually stands open
or closed. What comes in belongs to the energy day.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import Bank
from model.survey import Survey
from rules.daily_use import daily_use
from rules.left_alone import unsized, usable_ah
from rules.new_batteries import larger
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="bank_used_too_deep",
    number="5.5",
    title="Bank used deeper than it bears for long",
    topic="batteries",
    severity="caution",
    looks_at="each bank",
    subjects=lambda survey: survey.banks,
    messages={"deep": "The day takes {taken_ah} from {bank}; {bank:~it/they} may give "
                      "{usable_ah}."},
    remedy="Fit more capacity or more charging, or use less.",
    sources=("battery_makers",),
    quiet={"unwritten": "no minutes are written down for its loads"},
    figures=("usable_lead_ratio", "usable_lithium_ratio"),
    fix="sometimes",
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    use = daily_use(bank.batteries, survey)
    if not (use.taken_ah or use.unsaid):
        return None
    asked = unsized(bank.batteries, survey)
    if asked:
        return Missing((*asked, *use.unsaid), bank.batteries)
    may_give_ah = usable_ah(bank.batteries, survey, profile)
    if use.taken_ah > may_give_ah:
        return Fault("deep", bank.batteries, {"taken_ah": use.taken_ah, "usable_ah": may_give_ah},
                     {"bank": named(survey.diagram, bank.batteries)})
    return Missing(use.unsaid, bank.batteries) if use.unsaid else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the capacity that bears the day."""
    ratio = finding.figures["taken_ah"] / finding.figures["usable_ah"]
    yield from larger(survey, finding.where, ratio)
