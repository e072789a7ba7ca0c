"""What it checks.
The rating of each galvanic isolator, and whether it fails closed.

Why it matters.
It lies in the safety earth. One that burns open in a fault leaves the whole boat without an earth,
and nobody notices.

Fails when.
It is rated below the inlet, or does not fail closed.

Passes when.
It stands the inlet's current and fails closed.

Limits.
The inlet's rating is taken for that of the breaker on the quay.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.alternating import fed_from, inlets
from model.diagram import Component
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Isolator:
    """A galvanic isolator and an inlet whose earth passes it."""

    part: Component
    inlet: Component


def _isolators(survey: Survey) -> Iterator[Isolator]:
    graph = survey.graph
    for part in survey.diagram.components.values():
        if part.kind == "galvanic_isolator":
            yield from (Isolator(part, inlet.part) for inlet in inlets(graph)
                        if graph.number[f"{part.id}.aE"] in fed_from(graph, inlet.earth))


RULE = Rule(
    slug="isolator_too_small",
    number="7.6",
    title="Galvanic isolator too small or not fail-safe",
    topic="grounding",
    severity="fault",
    looks_at="each galvanic isolator",
    subjects=_isolators,
    messages={
        "small": "{isolator} is rated {rated_a}, {inlet} {inlet_a}.",
        "opens": "{isolator} does not fail closed: burnt out, it leaves the boat without an earth.",
    },
    remedy="Fit one of the inlet's rating that fails closed.",
    sources=("abyc_a28", "iso_ac_earthing"),
    quiet={"transformer": "an isolating transformer is used instead"},
    fix="sometimes",
)


def check(isolator: Isolator, survey: Survey, profile: Profile) -> Answer:
    """Judge one isolator."""
    facts = isolator.part.parameters
    rated_a, inlet_a = facts.get("rated_a"), isolator.inlet.parameters.get("rated_a")
    where = (isolator.part.id, isolator.inlet.id)
    names = {"isolator": named(survey.diagram, [isolator.part.id]),
             "inlet": named(survey.diagram, [isolator.inlet.id])}
    if facts.get("fail_safe") is False:
        return Fault("opens", where, {}, names)
    if rated_a is not None and inlet_a is not None and rated_a < inlet_a:
        return Fault("small", where, {"rated_a": rated_a, "inlet_a": inlet_a}, names)
    asked = tuple(f"{item}.{name}" for item, name, value in (
        (isolator.part.id, "fail_safe", facts.get("fail_safe")),
        (isolator.part.id, "rated_a", rated_a), (isolator.inlet.id, "rated_a", inlet_a))
        if value is None)
    return Missing(asked, where) if asked else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer one of the inlet's rating that fails closed, where that rating is known."""
    isolator, inlet = finding.where
    diagram = survey.diagram
    own_a, inlet_a = (diagram.components[item].parameters.get("rated_a")
                      for item in (isolator, inlet))
    if inlet_a is not None:
        rated_a = max(own_a or 0.0, inlet_a)
        title = (f"Fit a galvanic isolator of {rated_a:g} A that fails closed as "
                 f"{named(diagram, [isolator])}")
        yield Fix(title, "mechanical", with_fields(
            diagram, title, isolator, rated_a=rated_a, fail_safe=True))
