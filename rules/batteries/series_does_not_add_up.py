"""What it checks.
The volts of each bank: whether its strings are equal, and add up to the volts of a system aboard.

Why it matters.
Batteries put back in the wrong order are the commonest way to lose a boat's electronics at one
blow: 24 V on 12 V gear, or a string that drives hundreds of amperes through another.

Fails when.
Strings side by side have different volts, or the bank's volts are those of no system of the boat.

Passes when.
All strings are equal and make the volts of a system, a tenth more or less: a lithium battery of
12.8 V is one of 12 V.

Limits.
Banks that a contact joins belong to 2.8, a battery that is the wrong way round to 4.17. Boats of
which no system is written down are judged by the strings alone.
"""

from __future__ import annotations

from model.analysis.banks import Bank
from model.analysis.joinable import joined_for_good, post_v
from model.kinds.storage import is_same_nominal
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule, Sourced
from rules.wording import named

RULE = Rule(
    slug="series_does_not_add_up",
    number="5.3",
    title="Series string does not add up",
    topic="batteries",
    severity="danger",
    looks_at="each bank",
    subjects=lambda survey: survey.banks,
    messages={
        "unequal": "{batteries} are side by side with {low_v} and {high_v}.",
        "odd": "The voltage of {batteries} is {high_v}, which is that of no system of this boat.",
    },
    remedy="Photograph the posts, label them, and rewire the string.",
    sources=("claim_files",),
    quiet={"contact": "a contact is between them: 2.8 judges it"},
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    graph = survey.graph
    volts = {item: post_v(graph, item) for item in bank.batteries}
    unsaid = tuple(f"{item}.block_nominal_v" for item, value in volts.items() if value is None)
    if unsaid:
        return Missing(unsaid, bank.batteries)
    known = {item: value for item, value in volts.items() if value is not None}
    names = {"batteries": named(survey.diagram, bank.batteries)}
    for item, value in known.items():
        beside = {known[other] for other in joined_for_good(graph, item) if other in known}
        if not all(is_same_nominal(value, other) for other in beside):
            both: dict[str, float | Sourced] = {
                "low_v": min(value, *beside), "high_v": max(value, *beside)}
            return Fault("unequal", bank.batteries, both, names)
    systems = survey.diagram.systems.values()
    highest_v = max(known.values())
    if not systems or any(system.nominal_v and is_same_nominal(highest_v, system.nominal_v)
                          for system in systems):
        return None
    asked = tuple(f"{system.id}.nominal_v" for system in systems if system.nominal_v is None)
    return Missing(asked, bank.batteries) if asked else Fault(
        "odd", bank.batteries, {"high_v": highest_v}, names)
