"""What it checks.
Boats with a galvanic isolator: whether every earth from the quay goes through it.

Why it matters.
One earth beside it, a second inlet, an antenna cable, and it protects nothing: the anodes are gone
by spring.

Fails when.
The boat's ground can be reached from the earth of an inlet without passing an isolator.

Passes when.
All earths pass one.

Limits.
Earths that are not drawn cannot be seen.
"""

from __future__ import annotations

from collections.abc import Iterable

from model.analysis.alternating import AcSource, inlets
from model.analysis.ground import ground_parts
from model.analysis.reach import reach
from model.graph import Edge
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named


def _isolators(survey: Survey) -> frozenset[str]:
    return frozenset(part.id for part in survey.diagram.components.values()
                     if part.kind == "galvanic_isolator")


def _inlets(survey: Survey) -> Iterable[AcSource]:
    return inlets(survey.graph) if _isolators(survey) else ()


RULE = Rule(
    slug="isolator_bypassed",
    number="7.5",
    title="Galvanic isolator bypassed",
    topic="grounding",
    severity="fault",
    looks_at="each shore inlet of a boat with an isolator",
    subjects=_inlets,
    messages={"round": "The earth of {inlet} reaches the boat's ground round the isolator."},
    remedy="Route every earth through it.",
    sources=("abyc_a28", "corrosion_articles"),
    quiet={"second": "the second path has an isolator too"},
)


def check(inlet: AcSource, survey: Survey, profile: Profile) -> Answer:
    """Judge one inlet."""
    graph, isolators = survey.graph, _isolators(survey)

    def passes(edge: Edge, node: int) -> bool:
        return edge.owner not in isolators

    own = {node for part in ground_parts(graph) for node in graph.nodes_of(part.id)}
    return Fault("round", (inlet.part.id,), {},
                 {"inlet": named(survey.diagram, [inlet.part.id])}) if (
                     reach(graph, [inlet.earth], passes) & own) else None
