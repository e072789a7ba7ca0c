"""What it checks.
The conductor that grounds the case of each inverter and charger, against its DC positive.

Why it matters.
When the DC positive chafes through on the case, hundreds of amperes look for a way. A thin green
wire burns before the fuse does.

Fails when.
The case has a terminal and no conductor, or one thinner than one size below the DC positive.

Passes when.
It is at most one size below.

Limits.
A conductor of the purpose "case ground" or "bonding" that ends at the part is taken for it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.copper import known_copper_mm2, one_size_below_mm2
from model.analysis.ground import CASED, ground_parts, is_case_ground, reaches_ground
from model.diagram import Component, Conductor
from model.survey import Survey
from rules.fixing import thicker, with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words


@dataclass(frozen=True, slots=True)
class Cased:
    """A part with a metal case, the conductors that ground it and those of its DC positive."""

    part: Component
    grounds: tuple[Conductor, ...]
    plus: tuple[Conductor, ...]


def _cased(survey: Survey) -> Iterator[Cased]:
    for part in survey.diagram.components.values():
        if part.kind in CASED:
            wires = [wire for wire in survey.diagram.conductors.values()
                     if part.id in (wire.start.component, wire.finish.component)]
            yield Cased(part, tuple(w for w in wires if is_case_ground(survey.graph, w)),
                        tuple(w for w in wires if "+" in w.cores))


RULE = Rule(
    slug="case_ground_thin",
    number="7.8",
    title="Case ground of inverter, inverter-charger or charger missing or thin",
    topic="grounding",
    severity="fault",
    looks_at="each inverter and charger",
    subjects=_cased,
    messages={
        "none": "The case of {part} has a terminal for its ground, and nothing is joined to it.",
        "nowhere": "{wire} grounds the case of {part} and leads to no ground.",
        "thin": "{wire} grounds the case of {part} with {copper_mm2}; one size below its positive "
                "is {limit_mm2}.",
    },
    remedy="Run a case ground of at most one size below the DC positive.",
    sources=("abyc_e11", "surveyors"),
    quiet={"double": "it is double insulated", "fuse": "the fuse before it protects the case's "
           "conductor too"},
    fix="sometimes",
)


def check(cased: Cased, survey: Survey, profile: Profile) -> Answer:
    """Judge one part."""
    part, names = cased.part, {"part": named(survey.diagram, [cased.part.id])}
    if part.parameters.get("double_insulated") is True:
        return None
    if not cased.grounds:
        terminal = part.parameters.get("case_terminal")
        if terminal is None:
            return Missing((f"{part.id}.case_terminal",), (part.id,))
        return Fault("none", (part.id,), {}, names) if terminal else None
    unsized = [wire for wire in (*cased.grounds, *cased.plus) if wire.size is None]
    if unsized:
        return Missing(tuple(f"{wire.id}.size" for wire in unsized), (part.id,))
    limit_mm2 = max((one_size_below_mm2(wire) for wire in cased.plus), default=0.0)
    for wire in cased.grounds:
        if _leads_nowhere(wire, part, survey):
            return Fault("nowhere", (wire.id, part.id), {},
                         {**names, "wire": named(survey.diagram, [wire.id])})
        copper = known_copper_mm2(wire)
        if copper < limit_mm2 and not _is_protected(cased, wire, survey, profile):
            return Fault("thin", (wire.id, part.id),
                         {"copper_mm2": round(copper, 1), "limit_mm2": round(limit_mm2, 1)},
                         {**names, "wire": named(survey.diagram, [wire.id])})
    return None


def _leads_nowhere(wire: Conductor, part: Component, survey: Survey) -> bool:
    """Say whether a ground is drawn, and the far end of a case's ground leads to none."""
    graph = survey.graph
    far = [node for edge in graph.edges_of[wire.id] for node in (edge.a, edge.b)
           if graph.component_of[node] != part.id]
    return bool(ground_parts(graph)) and not reaches_ground(graph, far, wire.id)


def _is_protected(
    cased: Cased, wire: Conductor, survey: Survey, profile: Profile
) -> bool:
    """Say whether the worst device before the part is no larger than the case's wire carries."""
    graph = survey.graph
    nodes = [n for n in graph.nodes_of(cased.part.id) if graph.names[n].endswith("+")]
    before = [survey.largest_before(node) for node in nodes]
    carried_a = survey.ampacity_range(wire, profile.ampacity_table).low_a
    known = [bounds[1] for bounds in before if bounds is not None]
    return carried_a is not None and max(known, default=math.inf) <= carried_a


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the size that is asked for."""
    diagram, wire = survey.diagram, finding.where[0]
    size = thicker(survey, wire, profile, least_mm2=finding.figures["limit_mm2"]) if (
        finding.message_id == "thin") else None
    if size is not None:
        title = f"Replace {named(diagram, [wire])} by {size_words(size)}"
        yield Fix(title, "mechanical", with_fields(diagram, title, wire, size=size))
