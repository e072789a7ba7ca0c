"""What it checks.
What the AC side can draw at once against what the inlet brings.

Why it matters.
The breaker on the quay trips at night and nobody notices: in the morning the bank is flat.

Fails when.
The loads that are fixed, and the chargers, together draw more than the inlet is rated for.

Passes when.
They draw less, or the charger shares its power.

Limits.
All fixed loads are taken to run. Sockets and portable things are left out; a charger is taken at
its rated output and the figure of efficiency.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from model.analysis.alternating import AcSource, consumers, fed_from, inlets, terminal
from model.diagram import Component
from model.survey import Survey
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="shore_overloaded",
    number="9.16",
    title="Shore supply overloaded",
    topic="alternating",
    severity="caution",
    looks_at="each shore inlet",
    subjects=lambda survey: inlets(survey.graph),
    messages={"over": "{parts} can draw {drawn_a} at once; {inlet} brings {rated_a}."},
    remedy="Let the charger share its power, or write down an order of what may run.",
    sources=("common_practice",),
    quiet={"sharing": "the charger limits itself by what else draws"},
    figures=("charger_efficiency_ratio",),
    fix="sometimes",
)


def check(inlet: AcSource, survey: Survey, profile: Profile) -> Answer:
    """Judge one inlet."""
    graph = survey.graph
    fed = fed_from(graph, inlet.live)
    parts = [part for part in consumers(graph) if terminal(graph, part, "L") in fed]
    if any(_shares(part) for part in parts):
        return None
    volts, rated_a = (inlet.part.parameters.get(n) for n in ("nominal_v", "rated_a"))
    drawn = {part.id: watts for part in parts
             if (watts := _watts(part, survey, profile)) is not None}
    if not drawn:
        return None
    asked = [f"{inlet.part.id}.{name}" for name, value in (
        ("nominal_v", volts), ("rated_a", rated_a)) if value is None]
    if volts is None or rated_a is None:
        return Missing(tuple(asked), (inlet.part.id,))
    drawn_a = round(sum(drawn.values()) / volts, 1)
    return Fault("over", (inlet.part.id, *in_order(drawn)),
                 {"drawn_a": drawn_a, "rated_a": rated_a},
                 {"parts": named(survey.diagram, in_order(drawn)),
                  "inlet": named(survey.diagram, [inlet.part.id])}) if drawn_a > rated_a else None


def _shares(part: Component) -> bool:
    return part.parameters.get("power_share") is True or "input_limit_a" in part.parameters


def _watts(part: Component, survey: Survey, profile: Profile) -> float | None:
    """Return what a fixed load or a charger draws; None for sockets and what is not known. [W]."""
    facts = part.parameters
    if part.kind == "ac_load":
        return None if facts.get("portable") is True else facts.get("rated_w")
    charge_a = facts.get("rated_a" if part.kind == "shore_charger" else "charge_a")
    nodes = [n for n in survey.graph.nodes_of(part.id) if survey.graph.names[n].endswith("+")]
    volts = [v for n in nodes if (v := survey.potentials[n].nominal_v) is not None]
    if charge_a is None or not volts:
        return None
    return float(charge_a) * max(volts) / profile.value("charger_efficiency_ratio")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to limit what an inverter-charger takes from the quay to what the others leave."""
    diagram, (inlet, *parts) = survey.diagram, finding.where
    volts = diagram.components[inlet].parameters["nominal_v"]
    for item in parts:
        part = diagram.components[item]
        own_a = (_watts(part, survey, profile) or 0.0) / volts
        left_a = math.floor(finding.figures["rated_a"] - finding.figures["drawn_a"] + own_a)
        if part.kind == "inverter_charger" and left_a > 0:
            title = f"Limit the input of {named(diagram, [item])} to {left_a:g} A"
            yield Fix(title, "choice", with_fields(diagram, title, item, input_limit_a=left_a))
