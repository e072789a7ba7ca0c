"""What it checks.
Whether sort, capacity and age of each battery are written down.

Why it matters.
Charging volts, fuses and the energy day all hang on them, and a battery of unknown age is the one
that fails.

Fails when.
One of them is not.

Passes when.
All three are.

Limits.
Only that something is written is checked, not whether it is so.
"""

from __future__ import annotations

from model.diagram import Component
from model.survey import Survey
from rules.batteries_aboard import batteries_aboard
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

RULE = Rule(
    slug="battery_facts_missing",
    number="12.11",
    title="Battery facts missing (chemistry, capacity, age)",
    topic="papers",
    severity="note",
    looks_at="each battery",
    subjects=batteries_aboard,
    messages={"blank": "Of {battery} nobody has written down: {facts}."},
    remedy="Read the label on the battery.",
    sources=("common_practice",),
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    facts = {"chemistry": battery.parameters.get("chemistry"),
             "capacity": battery.parameters.get("capacity_ah"), "age": battery.installed}
    blank = [name for name, value in facts.items() if value is None]
    return Fault("blank", (battery.id,), {}, {
        "battery": named(survey.diagram, [battery.id]), "facts": ", ".join(blank)}) if (
            blank) else None
