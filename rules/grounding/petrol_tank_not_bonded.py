"""What it checks.
Whether metal petrol tanks and fills are joined to ground.

Why it matters.
Petrol that runs through a hose charges it. The spark at the fill's rim is all it takes.

Fails when.
No conductor leads from a metal petrol tank or fill to ground.

Passes when.
It has one, or is of diesel or not of metal.

Limits.
On a boat on which no ground is drawn any conductor is taken for it.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.ground import ground_parts, reaches_ground
from model.analysis.negatives import is_drawn
from model.diagram import Component
from model.survey import Survey
from rules.fixing import connected
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.tying import BONDING, ground_terminal
from rules.wording import named

RULE = Rule(
    slug="petrol_tank_not_bonded",
    number="7.13",
    title="Fuel fill and tank not bonded",
    topic="grounding",
    severity="fault",
    looks_at="each fuel tank and fill",
    subjects=lambda survey: [part for part in survey.diagram.components.values()
                             if part.kind == "fuel_tank" and part.stored is not True],
    messages={"bare": "{tank} is of metal, holds petrol, and is joined to no ground."},
    remedy="Bond fill, hose and tank.",
    sources=("cfr_static", "abyc_h24"),
    quiet={"diesel": "it holds diesel", "plastic": "it is not of metal"},
    fix="sometimes",
)


def check(tank: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one tank."""
    fuel, metal = (tank.parameters.get(name) for name in ("fuel", "metal"))
    if fuel == "diesel" or metal is False or _is_bonded(tank, survey):
        return None
    asked = tuple(f"{tank.id}.{name}" for name, value in (("fuel", fuel), ("metal", metal))
                  if value is None)
    return Missing(asked, (tank.id,)) if asked else Fault(
        "bare", (tank.id,), {}, {"tank": named(survey.diagram, [tank.id])})


def _is_bonded(tank: Component, survey: Survey) -> bool:
    """Say whether a conductor leads from the tank to ground, or, where none is drawn, away."""
    graph, node = survey.graph, survey.graph.number[f"{tank.id}.n"]
    return reaches_ground(graph, [node]) or (is_drawn(graph, node) and not ground_parts(graph))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a bonding conductor to the main ground."""
    diagram, (tank,) = survey.diagram, finding.where
    ground = ground_terminal(survey)
    if ground is not None:
        title = f"Bond {named(diagram, [tank])} to {ground}"
        yield Fix(title, "mechanical", connected(diagram, title, f"{tank}.n", ground, **BONDING))
