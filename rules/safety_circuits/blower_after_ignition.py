"""What it checks.
On boats with a petrol inboard: what feeds the bilge blower.

Why it matters.
Petrol vapour lies in the bilge like water. The blower must clear it before the first spark, so it
must run while the ignition is still off.

Fails when.
Every switch that kills the ignition kills the blower too, itself or through a relay that it works,
or they share a fuse.

Passes when.
It has a way of its own that is live before the engine is started.

Limits.
Whether a blower is fitted at all, and how much it moves, is not judged; nor is a boat on which no
engine is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable

from model.analysis.circuit_switches import killers
from model.analysis.load_supply import own_devices
from model.diagram import Component
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.safety_loads import with_roles
from rules.wording import named

RULE = Rule(
    slug="blower_after_ignition",
    number="10.10",
    title="Blower interlock wrong on petrol boat",
    topic="safety_circuits",
    severity="danger",
    looks_at="each bilge blower of a boat with an inboard engine",
    subjects=lambda survey: with_roles(survey, "blower") if any(
        _may_be_petrol(part) for part in survey.diagram.components.values()) else (),
    messages={
        "after": "{blower} is dead while {switches} is off, and so is the ignition: it cannot run "
                 "before the engine is started.",
        "shared": "{blower} and the ignition share {devices}.",
    },
    remedy="Feed the blower from a way of its own, before the ignition switch.",
    sources=("cfr_ventilation", "abyc_h2"),
    quiet={"diesel": "the engine is a diesel", "outboard": "the engine is an outboard"},
)


def _may_be_petrol(part: Component) -> bool:
    return part.kind == "engine_block" and part.parameters.get("fuel") != "diesel" and (
        part.parameters.get("type") != "outboard")


def check(blower: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one blower."""
    ignition = with_roles(survey, "ignition", "engine_control")
    switches = _switches_before_both(blower, ignition, survey)
    devices = own_devices(survey.graph)
    shared = {item for load in ignition for item in devices[blower.id] & devices[load.id]}
    if not switches and not shared:
        return None
    unsaid = _unsaid(survey)
    if unsaid:
        return Missing(unsaid, (blower.id,))
    names = {"blower": named(survey.diagram, [blower.id])}
    if switches:
        return Fault("after", (blower.id, *switches), {},
                     {**names, "switches": named(survey.diagram, switches)})
    return Fault("shared", (blower.id, *in_order(shared)), {},
                 {**names, "devices": named(survey.diagram, in_order(shared))})


def _unsaid(survey: Survey) -> tuple[str, ...]:
    """Return the facts of engines that would say whether it is a petrol inboard, if none is."""
    engines = [part for part in survey.diagram.components.values() if _may_be_petrol(part)]
    facts = {"fuel": "petrol", "type": "inboard"}
    if any(all(e.parameters.get(name) == value for name, value in facts.items())
           for e in engines):
        return ()
    return tuple(f"{engine.id}.{name}" for engine in engines for name in facts
                 if name not in engine.parameters)


def _switches_before_both(
    blower: Component, ignition: Iterable[Component], survey: Survey
) -> list[str]:
    """Return the switches of an ignition when every one of them kills the blower too."""
    graph = survey.graph
    own = killers(graph, graph.number[f"{blower.id}.+"])
    found: set[str] = set()
    for load in ignition:
        others = killers(graph, graph.number[f"{load.id}.+"])
        found |= others if others <= own else set()
    return in_order(found)
