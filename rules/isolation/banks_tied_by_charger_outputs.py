"""What it checks.
Each charger with several outputs: whether outputs that are not isolated from one another go to
different banks.

Why it matters.
Such outputs tie the banks together through the charger: the full one feeds the empty one, and both
are flat when the engine is to be started.

Fails when.
Two outputs that are stated not to be isolated go to two banks.

Passes when.
The outputs are isolated, or all go to one bank.

Limits.
Relays and diode splitters are not looked at: they part the banks by their nature. One output that
is wired to two batteries joins them for good and belongs to 2.7.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from model.analysis.fed_by import fed_by
from model.diagram import Component
from model.kinds.conversion import output_ids
from model.survey import Survey
from rules.fixing import with_fields, without
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="banks_tied_by_charger_outputs",
    number="2.14",
    title="Multi-bank charger ties banks together",
    topic="isolation",
    severity="fault",
    looks_at="each charger with several outputs",
    subjects=lambda survey: [c for c in survey.diagram.components.values()
                             if c.kind == "shore_charger" and len(output_ids(c.parameters)) > 1],
    messages={
        "tied": "{charger} ties {banks} together: its outputs {outputs} are not isolated from one "
                "another.",
    },
    remedy="Fit a charger with isolated outputs, or use one output for one bank.",
    sources=("common_practice",),
    quiet={"isolated": "the outputs are stated to be isolated"},
    fix="always",
)


def check(charger: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one charger by the banks that its outputs reach."""
    banks = _banks(charger, survey)
    stated = {row["id"]: row.get("isolated") for row in charger.parameters.get("outputs", ())}
    tied = [item for item in banks if stated.get(item) is False]
    perhaps = [item for item in banks if stated.get(item) is not True]
    if not _spread(tied, banks):
        if not _spread(perhaps, banks):
            return None
        unsaid = [f"{charger.id}.{item}.isolated" for item in perhaps
                  if stated.get(item) is None] if stated else [f"{charger.id}.outputs"]
        return Missing(tuple(unsaid), (charger.id, *_spread(perhaps, banks)))
    return Fault("tied", (charger.id, *_spread(tied, banks)), {}, {
        "charger": named(survey.diagram, [charger.id]),
        "banks": named(survey.diagram, _spread(tied, banks)),
        "outputs": " and ".join(tied)})


def _spread(outputs: list[str], banks: Mapping[str, frozenset[str]]) -> list[str]:
    """Return the banks that two outputs or more reach, nothing when it is one bank alone."""
    reached = in_order(bank for item in outputs for bank in banks[item])
    return reached if len(outputs) > 1 and len(reached) > 1 else []


def _banks(charger: Component, survey: Survey) -> Mapping[str, frozenset[str]]:
    """Return the banks that each wired output reaches with all switches as usual."""
    bank_of = {item: bank.id for bank in survey.banks for item in bank.batteries}
    found = {}
    for item in output_ids(charger.parameters):
        node = survey.graph.number[f"{charger.id}.{item}+"]
        reached = frozenset(bank_of[b] for b in fed_by(survey.graph, [node]))
        if reached:
            found[item] = reached
    return found


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a charger with isolated outputs, or to keep one output only."""
    diagram = survey.diagram
    charger = diagram.components[finding.where[0]]
    rows = tuple({**row, "isolated": True} for row in charger.parameters["outputs"])
    title = f"Fit a charger with isolated outputs as {named(diagram, [charger.id])}"
    yield Fix(title, "choice", with_fields(diagram, title, charger.id, outputs=rows))
    tied = [row["id"] for row in charger.parameters["outputs"] if row.get("isolated") is False]
    leads = [w.id for w in diagram.conductors.values() for e in w.ends()
             if e.component == charger.id and e.terminal in {f"{item}+" for item in tied[1:]}]
    if leads:
        title = f"Take {named(diagram, leads)} away"
        yield Fix(title, "choice", without(diagram, title, leads))
