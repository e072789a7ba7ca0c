"""What it checks.
Drawn negatives over which loads of two voltages return to their banks.

Why it matters.
The two systems add up in the common negative. A conductor that was sized for one of them runs hot
when both work.

Fails when.
It carries the larger system's current, and not the sum of both.

Passes when.
It carries the sum.

Limits.
What one system alone is too much for, or what flows together in a solved case, belongs to 4.1.
Loads of unknown current count nothing. Of what runs for short times the largest of each system
counts.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from model.analysis.shared_returns import SharedReturn, most_a, shared_returns
from model.survey import Survey
from rules.daily_use import drawn_a
from rules.fixing import thicker, with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

RULE = Rule(
    slug="shared_return_too_thin",
    number="8.12",
    title="Negatives of 24 V and 12 V carry each other's return",
    topic="negative_side",
    severity="caution",
    looks_at="each drawn negative that loads of two voltages share",
    subjects=shared_returns,
    messages={
        "sum": "{wire} carries the returns of {systems}: {sum_a} together, and it may carry "
               "{ampacity_a}.",
    },
    remedy="Size the shared negative for the sum, or give each system its own.",
    sources=("common_practice",),
    quiet={
        "isolated": "an isolated converter parts the negatives",
        "alone": "one system alone is too much for it: 4.1 judges it",
    },
    fix="sometimes",
)


def check(shared: SharedReturn, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor by the sum of what each system sends through it."""
    diagram = survey.diagram
    currents = {item: amps for loads in shared.loads.values() for item in loads
                if (amps := drawn_a(item, survey)) is not None}
    by_volts = {volts: most_a(survey, loads, currents) for volts, loads in shared.loads.items()}
    total_a, largest_a = sum(by_volts.values()), max(by_volts.values())
    solved = survey.duty.conductors.get(shared.conductor)
    alone_a = max(largest_a, 0.0 if solved is None else solved.current_a)
    ampacity = survey.ampacity_range(diagram.conductors[shared.conductor], profile.ampacity_table)
    low_a = 0.0 if ampacity.low_a is None else ampacity.low_a
    high_a = math.inf if ampacity.high_a is None else ampacity.high_a
    if low_a >= total_a or high_a < alone_a:
        return None
    if high_a >= total_a:
        return Missing(tuple(f"{shared.conductor}.{field}" for field in ampacity.missing),
                       (shared.conductor,))
    return Fault(
        "sum", (shared.conductor, *(loads[0] for loads in shared.loads.values())),
        {"sum_a": round(total_a, 1), "ampacity_a": high_a},
        {"wire": named(diagram, [shared.conductor]),
         "systems": " and ".join(f"{volts:g} V" for volts in sorted(by_volts))},
        sources=ampacity.sources, unverified=not ampacity.confirmed)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the smallest size that carries the sum."""
    wire = finding.where[0]
    size = thicker(survey, wire, profile, carries_a=finding.figures["sum_a"])
    if size is not None:
        title = f"Replace {named(survey.diagram, [wire])} by {size_words(size)}"
        yield Fix(title, "mechanical", with_fields(survey.diagram, title, wire, size=size))
