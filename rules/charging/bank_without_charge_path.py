"""What it checks.
Each bank: whether any source can charge it in some position of the switches.

Why it matters.
A bank that nothing charges is found flat on the day it is needed.

Fails when.
No way leads from an alternator, array, wind generator, shore inlet or generating set to the bank
in the forward direction.

Passes when.
Some source reaches it, over a relay, converter, charger output or switch.

Limits.
Only the direction is looked at; whether the volts at the bank are enough belongs to 3.6 and 3.8.
"""

from __future__ import annotations

from model.analysis.banks import Bank
from model.analysis.charge_paths import directed_reach
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="bank_without_charge_path",
    number="3.1",
    title="A bank with no way to be charged",
    topic="charging",
    severity="fault",
    looks_at="each bank",
    subjects=lambda survey: survey.banks,
    messages={
        "no_path": "No source of energy reaches {bank} in any position of the switches.",
    },
    remedy="Add a relay, a converter or a charger output to that bank.",
    sources=("common_practice",),
    quiet={
        "stored": "it is a spare battery marked as stored",
    },
    follows=True,
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank."""
    if survey.charge_sources[bank.id]:
        return None
    unfed = _unfed_chargers(bank, survey)
    if unfed:
        return Missing(tuple(f"{item}.{_supply(item, survey)}" for item in unfed),
                       (bank.id, *unfed))
    return Fault("no_path", bank.batteries, {},
                 {"bank": named(survey.diagram, bank.batteries)})


def _unfed_chargers(bank: Bank, survey: Survey) -> list[str]:
    """Return chargers that reach the bank and whose own supply is not drawn."""
    graph = survey.graph
    posts = {graph.number[f"{battery}.+"] for battery in bank.batteries}
    found = []
    for component in survey.diagram.components.values():
        for edge in graph.edges_of.get(component.id, ()):
            drawn = any(graph.edges[i].role == "conductor" for i in graph.edges_at[edge.a])
            if edge.role == "converter" and not drawn and posts & directed_reach(
                    graph, [edge.b]):
                found.append(component.id)
    return sorted(set(found))


def _supply(item: str, survey: Survey) -> str:
    """Return the port by which a charger is supplied."""
    part, kind = survey.diagram.components[item], survey.graph.kinds[item]
    inputs = {link.a for link in kind.links(part.parameters) if link.role == "converter"}
    return next(port.id for port in kind.ports(part.parameters)
                if inputs & set(port.poles.values()))
