"""What it checks.
What controls, ignites or stops an engine: which battery switch makes it dead.

Why it matters.
Somebody turns off the house at sea, or in a fire, and the engine stops; or it runs on and nothing
stops it.

Fails when.
A battery switch makes it dead and leaves the starter fed.

Passes when.
It is fed as the starter is, or straight from a bank, or the engine is a diesel with a pull-stop.

Limits.
Only loads with the role of engine control, ignition or stop solenoid are looked at. Where no engine
is drawn nothing excuses it.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import is_main_switch, off_position
from model.analysis.circuit_switches import feeding_in_use
from model.analysis.fed_by import starters_fed
from model.diagram import Component
from model.survey import Survey
from rules.always_fed import from_start_bank
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

ROLES = frozenset({"engine_control", "ignition", "stop_solenoid"})

RULE = Rule(
    slug="engine_control_on_house_side",
    number="2.13",
    title="Engine stops or cannot be stopped when a house switch is opened",
    topic="isolation",
    severity="danger",
    looks_at="each load that controls, ignites or stops an engine",
    subjects=lambda survey: [c for c in survey.diagram.components.values()
                             if c.parameters.get("role") in ROLES],
    messages={
        "house": "With {switches} off, {load} is dead while the starter stays fed: the engine "
                 "stops, or cannot be stopped.",
    },
    remedy="Feed engine controls from the start bank; keep a mechanical stop.",
    sources=("common_practice",),
    quiet={"pull_stop": "the engine is a mechanical diesel with a pull-stop"},
    fix="sometimes",
)


def check(load: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one load by the switches that make it dead."""
    switches = _killing(load, survey)
    if not switches:
        return None
    engines = [c for c in survey.diagram.components.values() if c.kind == "engine_block"]
    facts = [(e, field, e.parameters.get(field), wanted) for e in engines
             for field, wanted in (("stop", "mechanical"), ("fuel", "diesel"))]
    if engines and all(found == wanted for _, _, found, wanted in facts):
        return None
    unsaid = [f"{engine.id}.{field}" for engine, field, found, _ in facts if found is None]
    if unsaid and all(found in (None, wanted) for _, _, found, wanted in facts):
        return Missing(tuple(unsaid), (load.id, *switches))
    return Fault("house", (load.id, *switches), {}, {
        "load": named(survey.diagram, [load.id]), "switches": named(survey.diagram, switches)})


def _killing(load: Component, survey: Survey) -> list[str]:
    """Return the main switches that make a load dead and leave a starter fed."""
    graph = survey.graph
    node = graph.number[f"{load.id}.+"]
    if not feeding_in_use(graph, [node]):
        return []
    found = []
    for edge in graph.edges:
        if edge.handle is None or not is_main_switch(graph, edge.owner):
            continue
        off = {edge.handle: off_position(graph, edge)}
        if not feeding_in_use(graph, [node], off) and any(starters_fed(graph, off).values()):
            found.append(edge.owner)
    return in_order(found)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to feed it from what feeds the starter, with a fuse of its own."""
    yield from from_start_bank(survey, profile, finding.where[0])
