"""What it checks.
Engine controls and glow plugs: whether the engine can still be started when the house bank is flat.

Why it matters.
The start battery is full and the starter turns, but the panel and the glow plugs hang on the bank
that the fridge has emptied.

Fails when.
One of them is fed by no battery that cranks the engine, and no link brings one.

Passes when.
It is fed from the start bank, or the engine can be started by hand, or a link joins the banks.

Limits.
What a house switch kills while the engine runs is named by 2.13, and not again here.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.circuit_switches import feeding_in_use, in_use
from model.analysis.fed_by import starters_fed
from model.analysis.load_supply import batteries_at_will
from model.diagram import Component
from model.survey import Survey
from rules.always_fed import from_start_bank
from rules.isolation import engine_control_on_house_side
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.safety_loads import with_roles
from rules.wording import named

RULE = Rule(
    slug="start_needs_house_bank",
    number="10.13",
    title="Start of engine impossible after house failure",
    topic="safety_circuits",
    severity="caution",
    looks_at="each engine control, ignition and set of glow plugs",
    subjects=lambda survey: with_roles(survey, "engine_control", "ignition", "glow_plug"),
    messages={"house": "{load} hangs on {banks} alone; the starter is fed from {cranking}."},
    remedy="Feed it from the start bank.",
    sources=("common_practice",),
    quiet={"hand": "the engine can be started by hand",
           "link": "a link or selector brings the start bank to it"},
    fix="sometimes",
)


def check(load: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one load."""
    graph = survey.graph
    feeding = feeding_in_use(graph, [graph.number[f"{load.id}.+"]])
    cranking: frozenset[str] = frozenset().union(*starters_fed(graph, in_use(graph)).values())
    if not feeding or not cranking or _by_hand(survey):
        return None
    if batteries_at_will(graph, load.id) & cranking:
        return None
    if load.parameters.get("role") in engine_control_on_house_side.ROLES and isinstance(
            engine_control_on_house_side.check(load, survey, profile), Fault):
        return None
    return Fault("house", (load.id, *in_order(feeding)), {}, {
        "load": named(survey.diagram, [load.id]),
        "banks": named(survey.diagram, in_order(feeding)),
        "cranking": named(survey.diagram, in_order(cranking))})


def _by_hand(survey: Survey) -> bool:
    return "hand_start" in survey.diagram.boat.aboard or any(
        part.parameters.get("hand_start") is True
        for part in survey.diagram.components.values() if part.kind == "engine_block")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to feed it from what feeds the starter, with a fuse of its own."""
    yield from from_start_bank(survey, profile, finding.where[0])
