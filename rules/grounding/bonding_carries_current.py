"""What it checks.
The way home of each load: whether it is a proper negative.

Why it matters.
Bonding wires are thin, and end on fittings in the water. Current in them heats the wire and eats
the seacock.

Fails when.
The only conductors at a load's negative are bonding, or lead to a bonding bus or an earth plate.

Passes when.
It has a negative of its own.

Limits.
The hull as a conductor belongs to 7.7.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.ground import EARTHING
from model.diagram import Component, Conductor
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named

NO_RETURN = ("bonding_bus", "earth_plate")


def _returned(survey: Survey) -> Iterator[Component]:
    for edge in survey.graph.edges:
        if edge.role == "load":
            yield survey.diagram.components[edge.owner]


RULE = Rule(
    slug="bonding_carries_current",
    number="7.3",
    title="Bonding conductor carries load current",
    topic="grounding",
    severity="danger",
    looks_at="each load whose return is drawn",
    subjects=_returned,
    messages={"bonding": "{load} has no way home but {wires}, which is no return conductor."},
    remedy="Run a return conductor to the negative bus.",
    sources=("abyc_e11", "abyc_e2"),
)


def check(load: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one load."""
    graph, wires = survey.graph, survey.diagram.conductors
    ends = {edge.b for edge in graph.edges_of[load.id] if edge.role == "load"}
    home = [wires[graph.edges[i].owner] for node in ends for i in graph.edges_at[node]
            if graph.edges[i].role == "conductor"]
    if not home or not all(_is_bonding(wire, load, survey) for wire in home):
        return None
    ids = [wire.id for wire in home]
    return Fault("bonding", (load.id, *ids), {}, {
        "load": named(survey.diagram, [load.id]), "wires": named(survey.diagram, ids)})


def _is_bonding(wire: Conductor, load: Component, survey: Survey) -> bool:
    far = [end.component for end in wire.ends() if end.component != load.id]
    return wire.purpose in EARTHING or any(
        survey.diagram.components[item].kind in NO_RETURN for item in far)
