"""What it checks.
The joints of wires to bilge pumps, floats and water alarms that stay live: how they lie.

Why it matters.
These wires are live day and night, and lie where the water comes. A joint in it leaks current,
which eats the wire and the metal around, until the pump that should save the boat is dead.

Fails when.
It is recorded that the joint of such a wire does not sit sealed above the bilge water.

Passes when.
The joint is sealed and above the water, and the wire comes to it from below in a drip loop.

Limits.
A recorded joint that lies in the bilge unsealed is named by 4.22 and not again here. Only eyes can
tell: until it is answered the question stands on the list of what to look at aboard.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.load_supply import live_when_off
from model.diagram import Conductor
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.safety_loads import pumps
from rules.wording import named


def _wires_to_water(survey: Survey) -> Iterator[Conductor]:
    """Yield the conductors that a battery keeps live in the bilge with everything switched off."""
    graph, live = survey.graph, live_when_off(survey.graph)
    wet = set(pumps(survey, "bilge_pump_automatic", "water_alarm")) | {
        part.id for part in survey.diagram.components.values()
        if part.kind == "float_switch" and part.stored is not True}
    for wire in survey.diagram.conductors.values():
        ends = {end.component for end in wire.ends()}
        if wet & ends and any({edge.a, edge.b} & live for edge in graph.edges_of.get(wire.id, ())):
            yield wire


RULE = Rule(
    slug="live_joint_in_bilge_water",
    number="7.11",
    title="Live conductor in bilge water without drip loop or seal",
    topic="grounding",
    severity="caution",
    looks_at="each conductor of a bilge pump, float switch or water alarm",
    subjects=_wires_to_water,
    messages={"wet": "The joint of {wire} does not sit sealed above the bilge water."},
    remedy="Raise the joint, seal it, and let the wire come to it from below in a drip loop.",
    sources=("corrosion_articles",),
    quiet={"above": "the joint is sealed and above the water"},
    questions={
        "joint_above_water": "{item}: do its joints at the bilge sit sealed above the water, with "
                             "a drip loop?",
    },
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor."""
    if wire.joint_above_water is None:
        return Missing((f"{wire.id}.joint_above_water",), (wire.id,))
    bilges = {place.id for place in survey.diagram.places.values() if place.environment == "bilge"}
    named_by_joint = any(j.sealed is False and j.place in bilges for j in wire.joints)
    if wire.joint_above_water or named_by_joint:
        return None
    return Fault("wet", (wire.id,), {}, {"wire": named(survey.diagram, [wire.id])})
