"""What it checks.
Each starter: whether a second bank can crank the engine in some position of the switches.

Why it matters.
A start battery dies without notice. A link that is aboard and labelled is found in the dark; a jump
lead is not.

Fails when.
No position of the switches that hands work lets a second bank of the same voltage crank.

Passes when.
An emergency link, or a selector, leads there from another bank.

Limits.
A voltage-sensing relay is no such way: it closes when something charges. Whether the negative is as
large belongs to 8.8.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import Bank
from model.analysis.joinable import post_v
from model.analysis.reach import always_closed, reach
from model.diagram import Component, Conductor
from model.survey import Survey
from rules.fixing import connected, placed, together
from rules.profiles import Profile
from rules.rewiring import switched_point
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

AIDS = frozenset({"hand_start", "jump_pack"})

RULE = Rule(
    slug="emergency_start_missing",
    number="2.17",
    title="Emergency start path missing",
    topic="isolation",
    severity="note",
    looks_at="each starter",
    subjects=lambda survey: [
        c for c in survey.diagram.components.values() if c.kind == "starter"],
    messages={
        "one_bank": "Only {bank} can crank with {starter}: no switch leads another bank there.",
    },
    remedy="Fit an emergency link, labelled, with a negative as large; with one bank aboard carry "
           "a jump pack.",
    sources=("common_practice",),
    quiet={
        "aboard": "a portable jump pack is aboard, or the engine can be started by hand",
    },
    fix="sometimes",
)


def check(starter: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one starter by the banks that can reach it."""
    engine = survey.diagram.components.get(starter.parameters.get("driven_by", ""))
    if AIDS & set(survey.diagram.boat.aboard) or (
            engine is not None and engine.parameters.get("hand_start") is True):
        return None
    banks = _cranking(starter, survey)
    if len(banks) != 1:
        return None
    return Fault("one_bank", (starter.id, *banks), {}, {
        "starter": named(survey.diagram, [starter.id]), "bank": named(survey.diagram, banks)})


def _cranking(starter: Component, survey: Survey) -> list[str]:
    """Return the banks that can reach a starter without a relay that volts work."""
    graph = survey.graph
    relays = {c.id for c in survey.diagram.components.values()
              if c.kind == "voltage_sensing_relay"}
    reached = reach(graph, [graph.number[f"{starter.id}.+"]], lambda edge, node: (
        edge.owner not in relays and always_closed(edge, node)))
    return [bank.id for bank in survey.banks
            if any(graph.number[f"{battery}.+"] in reached for battery in bank.batteries)]


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a link between the start bank and each other bank of its voltage."""
    diagram = survey.diagram
    own = next(b for b in survey.banks if b.id == finding.where[1])
    plus = f"{finding.where[0]}.+"
    lead = next((w for w in diagram.conductors.values()
                 if plus in {f"{e.component}.{e.terminal}" for e in w.ends()}), None)
    for bank in survey.banks:
        volts = [post_v(survey.graph, b.id) for b in (own, bank)]
        if bank.id == own.id or None in volts or volts[0] != volts[1] or lead is None:
            continue
        yield _linked(survey, own, bank, lead)


def _linked(survey: Survey, own: Bank, other: Bank, lead: Conductor) -> Fix:
    """Return the fix that joins two banks behind their switches, by cable as the starter's."""
    diagram = survey.diagram
    title = f"Fit an emergency link between {named(diagram, [own.id, other.id])}"
    link, fitted = placed(diagram, title, "emergency_link", own.id)
    cable = {name: value for name in ("size", "insulation_c", "colour")
             if (value := getattr(lead, name)) is not None}
    here, there = switched_point(survey, own), switched_point(survey, other)
    return Fix(title, "choice", together(
        diagram, title, lambda _: fitted,
        lambda d: connected(d, title, here, f"{link}.a", **cable),
        lambda d: connected(d, title, f"{link}.b", there, **cable)))
