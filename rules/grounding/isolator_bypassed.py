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

from collections.abc import Iterable, Iterator, Mapping

from model.analysis.alternating import AcSource, inlets, passes_ac
from model.analysis.ground import ground_parts
from model.analysis.reach import came_from, reach, way_back
from model.edits import apply as applied
from model.graph import Edge
from model.survey import Survey
from rules.fixing import moved
from rules.profiles import Profile
from rules.rewiring import terminal_name
from rules.rule import Answer, Fault, Finding, Fix, Rule
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
    fix="sometimes",
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


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to begin the earth that goes round the one isolator behind it."""
    graph, diagram = survey.graph, survey.diagram
    inlet = next(one for one in inlets(graph) if one.part.id == finding.where[0])
    isolators = _isolators(survey)
    came = came_from(graph, [inlet.earth], lambda edge, _: edge.owner not in isolators)
    own = {node for part in ground_parts(graph) for node in graph.nodes_of(part.id)}
    way = way_back(came, next(node for node in came if node in own))
    last = way[-1]
    begins = last.a if last.b in own else last.b
    if len(isolators) != 1 or tuple(diagram.conductors[last.owner].cores) != ("E",):
        return
    (isolator,) = isolators
    far = _far_side(survey, isolator, came)
    title = f"Lead {named(diagram, [last.owner])} to the far side of {named(diagram, [isolator])}"
    edit = moved(diagram, title, last.owner, terminal_name(graph, begins), far)
    if _is_earthed_through(Survey(applied(diagram, edit)), inlet.part.id, profile):
        yield Fix(title, "choice", edit)


def _far_side(survey: Survey, isolator: str, came: Mapping[int, Edge | None]) -> str:
    """Return the terminal of an isolator that is farther from the inlet."""
    graph = survey.graph
    far = max((graph.number[f"{isolator}.{side}E"] for side in "ab"), key=lambda node: (
        node not in came, len(way_back(came, node)) if node in came else 0))
    return terminal_name(graph, far)


def _is_earthed_through(survey: Survey, inlet: str, profile: Profile) -> bool:
    """Say whether an inlet's earth reaches the boat's ground, and by an isolator alone."""
    graph = survey.graph
    source = next(one for one in inlets(graph) if one.part.id == inlet)
    own = {node for part in ground_parts(graph) for node in graph.nodes_of(part.id)}
    return check(source, survey, profile) is None and bool(
        reach(graph, [source.earth], passes_ac) & own)
