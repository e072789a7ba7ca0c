"""What it checks.
The conductors of the lightning system, from mast to water.

Why it matters.
Tens of thousands of amperes take the thick straight way, or burst the thin one and take what is
beside it.

Fails when.
One of them has less copper than the figure.

Passes when.
All are heavy.

Limits.
Conductors of the purpose "lightning" are taken for the path, and from where they end short of a
plate or hull the heaviest way on to one.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.copper import copper_mm2
from model.analysis.ground import grounds
from model.analysis.negative_tie import widest_way
from model.diagram import Conductor
from model.survey import Survey
from rules.fixing import thicker, with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, size_words

IN_WATER = ("earth_plate", "hull_bond")


def _conductors(survey: Survey) -> list[Conductor]:
    """Return the lightning conductors, and where they end short of the water what leads on."""
    graph, wires = survey.graph, survey.diagram.conductors
    own = [wire for wire in wires.values() if wire.purpose == "lightning"]
    ends = {node for wire in own for edge in graph.edges_of[wire.id] for node in (edge.a, edge.b)}
    water = {node for part in survey.diagram.components.values() if part.kind in IN_WATER
             for node in graph.nodes_of(part.id)}
    on = () if ends & water else widest_way(
        graph, ends, water, lambda edge, _: grounds(graph, edge))
    return [*own, *(wires[item] for item in on)]


RULE = Rule(
    slug="lightning_path_thin",
    number="7.14",
    title="Lightning conductor joined to small negative wires",
    topic="grounding",
    severity="caution",
    looks_at="each conductor of the lightning system",
    subjects=_conductors,
    messages={"thin": "{wire} has {copper_mm2} on the way from mast to water; {limit_mm2} is the "
                      "least."},
    remedy="Run a heavy path of its own, as straight as can be.",
    sources=("abyc_te4",),
    quiet={"none": "the boat has no lightning system"},
    figures=("lightning_mm2",),
    fix="always",
)


def check(wire: Conductor, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor."""
    if survey.diagram.boat.lightning_system is False:
        return None
    copper, limit = copper_mm2(wire), profile["lightning_mm2"]
    if copper is None:
        return Missing((f"{wire.id}.size",), (wire.id,))
    return Fault("thin", (wire.id,), {"copper_mm2": round(copper, 1), "limit_mm2": limit},
                 {"wire": named(survey.diagram, [wire.id])}) if copper < limit.value else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the size that is asked for."""
    diagram, wire = survey.diagram, finding.where[0]
    size = thicker(survey, wire, profile, least_mm2=finding.figures["limit_mm2"])
    if size is not None:
        title = f"Replace {named(diagram, [wire])} by {size_words(size)}"
        yield Fix(title, "mechanical", with_fields(diagram, title, wire, size=size))
