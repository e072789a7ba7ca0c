"""What it checks.
From how many banks the radio can be fed.

Why it matters.
The day the radio is needed is the day the house bank is under water.

Fails when.
In every position of the switches only one bank feeds it.

Passes when.
A change-over, selector or emergency link can put a second bank on it, or a handheld set is aboard.

Limits.
Relays that close by themselves do not count.
"""

from __future__ import annotations

from model.analysis.load_supply import batteries_at_will
from model.diagram import Component
from model.kinds.storage import LITHIUM
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.safety_loads import with_roles
from rules.wording import named

RULE = Rule(
    slug="radio_one_supply",
    number="10.8",
    title="No emergency supply for the radio",
    topic="safety_circuits",
    severity="note",
    looks_at="each radio",
    subjects=lambda survey: with_roles(survey, "radio"),
    messages={"one": "Only {bank} can feed {radio}, in every position of the switches."},
    remedy="Fit a change-over to a second bank, or carry a handheld set.",
    sources=("common_practice",),
    quiet={"handheld": "a handheld set is aboard", "own": "it has a battery of its own",
           "lithium": "it hangs on lithium alone: 6.5 judges it"},
)


def check(radio: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one radio."""
    if "handheld_radio" in survey.diagram.boat.aboard or (
            radio.parameters.get("own_battery") is True):
        return None
    feeding = batteries_at_will(survey.graph, radio.id)
    banks = [bank for bank in survey.banks if feeding & set(bank.batteries)]
    if len(banks) != 1 or all(survey.diagram.components[item].parameters.get("chemistry")
                              in LITHIUM for item in banks[0].batteries):
        return None
    return Fault("one", (radio.id, *banks[0].batteries), {}, {
        "radio": named(survey.diagram, [radio.id]),
        "bank": named(survey.diagram, banks[0].batteries)})
