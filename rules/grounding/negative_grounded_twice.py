"""What it checks.
In how many places the DC negative meets bonding and ground.

Why it matters.
With two ties the current of the boat divides: part of it runs through bonding and sea water, and
eats what it leaves by.

Fails when.
Negatives, earths and bonding form a ring that passes through ground.

Passes when.
There is one tie.

Limits.
Cables that lie side by side are one tie. Twin engines that their starters' negatives tie belong to
7.9. Grounds of cases are left out.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.copper import copper_mm2
from model.analysis.cycles import blocks
from model.analysis.ground import ground_parts, grounds, is_case_ground
from model.survey import Survey
from rules.fixing import without
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

Ring = tuple[str, ...]
SECOND_TIES = ("earth_plate", "bonding_bus", "hull_bond")


def _rings(survey: Survey) -> Iterator[Ring]:
    """Yield the conductors of each ring of negatives, earths and bonding."""
    graph, diagram = survey.graph, survey.diagram
    away = {part.id for part in diagram.components.values()
            if part.parameters.get("capacitor_only") is True}

    cases = {wire.id for wire in diagram.conductors.values() if is_case_ground(graph, wire)}
    beside: dict[int, list[tuple[int, int]]] = {}
    for edge in graph.edges:
        if grounds(graph, edge) and edge.owner not in cases and away.isdisjoint(
                (graph.component_of[edge.a], graph.component_of[edge.b])):
            beside.setdefault(edge.a, []).append((edge.index, edge.b))
            beside.setdefault(edge.b, []).append((edge.index, edge.a))
    rings = (block for block in blocks(sorted(beside), beside.__getitem__) if len(block) > 1)
    for block in rings:
        yield tuple(in_order({graph.edges[i].owner for i in block
                              if graph.edges[i].role == "conductor"}))


RULE = Rule(
    slug="negative_grounded_twice",
    number="7.2",
    title="DC negative tied to ground in more than one place",
    topic="grounding",
    severity="fault",
    looks_at="each ring of negatives, earths and bonding",
    subjects=_rings,
    messages={"ring": "{wires} form a ring through {grounds}: the negative meets ground in more "
                      "than one place."},
    remedy="Keep one tie and remove the others.",
    sources=("abyc_e11",),
    quiet={"twins": "it is the ring of twin engines with their link",
           "earths": "it is of AC earths alone: 7.5 judges what passes an isolator by",
           "capacitor": "a capacitor parts the radio's ground plate"},
    fix="sometimes",
)


def check(ring: Ring, survey: Survey, profile: Profile) -> Answer:
    """Judge one ring by the parts that it passes."""
    passed = {end.component for item in ring
              for end in survey.diagram.conductors[item].ends()}
    own = in_order(part.id for part in ground_parts(survey.graph) if part.id in passed)
    engines = [i for i in own if survey.diagram.components[i].kind == "engine_block"]
    negative = any("-" in survey.diagram.conductors[item].cores for item in ring)
    beside = {frozenset(_where(survey, end.component)
                        for end in survey.diagram.conductors[i].ends()) for i in ring}
    twins = len(engines) > 1 and engines == own
    if not negative or not own or twins or len(beside) == 1 or passed <= set(own):
        return None
    return Fault("ring", ring, {}, {"wires": named(survey.diagram, ring),
                                    "grounds": named(survey.diagram, own)})


def _where(survey: Survey, item: str) -> str:
    """Return the part a negative ends at: of a machine the engine it is bolted to."""
    return survey.diagram.components[item].mounted_on or item


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take away the conductors of the ring that end at a plate or at bonding, but for the
    thickest of them that is a negative.
    """
    diagram = survey.diagram
    second = {part.id for part in diagram.components.values() if part.kind in SECOND_TIES}
    ties = [wire for wire in (diagram.conductors[item] for item in finding.where)
            if second & {end.component for end in wire.ends()}]
    main = max(ties, default=None, key=lambda wire: ("-" in wire.cores, copper_mm2(wire) or 0.0))
    for wire in ties:
        if wire is not main:
            title = f"Take away {named(diagram, [wire.id])}"
            yield Fix(title, "choice", without(diagram, title, [wire.id]))
