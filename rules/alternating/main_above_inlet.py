"""What it checks.
The main breaker against the inlet and its lead, and the breaker before each inverter-charger
against what its relay passes through.

Why it matters.
The plug and the shore lead burn before a breaker that is larger than they are; a relay welds.

Fails when.
The first breaker after an inlet is rated above the inlet, or the breaker that feeds an
inverter-charger above its transfer rating.

Passes when.
They are not.

Limits.
Ratings that are not recorded are asked for.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.alternating import ac_sources, first_devices, inlets, nearest_devices
from model.graph import Edge
from model.survey import Survey
from rules.fixing import with_fields
from rules.new_device import largest_rating_a
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Limited:
    """A device, and the part and field that must stand its rating."""

    edge: Edge
    part: str
    field: str


def _limited(survey: Survey) -> Iterator[Limited]:
    graph = survey.graph
    for inlet in inlets(graph):
        yield from (Limited(first.edge, inlet.part.id, "rated_a")
                    for first in first_devices(graph, inlet.live) if first.edge is not None)
    for source in ac_sources(graph):
        for part in survey.diagram.components.values():
            if part.kind == "inverter_charger":
                nearest = nearest_devices(graph, source, graph.number[f"{part.id}.inL"])
                yield from (Limited(edge, part.id, "transfer_a") for edge in nearest)


RULE = Rule(
    slug="main_above_inlet",
    number="9.10",
    title="Boat main breaker larger than inlet, lead or pass-through relay",
    topic="alternating",
    severity="fault",
    looks_at="each main breaker, and the breaker before each inverter-charger",
    subjects=_limited,
    messages={"above": "{device} is rated {rated_a}; {part} stands {limit_a}."},
    remedy="Fit a smaller breaker.",
    sources=("abyc_e11",),
    quiet={"sharing": "the inverter-charger's own limit at its input is set lower"},
    fix="sometimes",
)


def check(limited: Limited, survey: Survey, profile: Profile) -> Answer:
    """Judge one device."""
    facts = survey.diagram.components[limited.part].parameters
    rated_a, limit_a = limited.edge.device.get("rated_a"), facts.get(limited.field)
    where = (limited.edge.item, limited.part)
    sharing_a = facts.get("input_limit_a")
    if limit_a is not None and sharing_a is not None and sharing_a <= limit_a:
        return None
    asked = [f"{item}.{name}" for item, name, value in (
        (limited.edge.item, "rated_a", rated_a), (limited.part, limited.field, limit_a))
        if value is None]
    if rated_a is None or limit_a is None:
        return Missing(tuple(asked), where)
    return Fault("above", where, {"rated_a": rated_a, "limit_a": limit_a}, {
        "device": named(survey.diagram, [limited.edge.item]),
        "part": named(survey.diagram, [limited.part])}) if rated_a > limit_a else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the largest device that the part stands."""
    diagram, device = survey.diagram, finding.where[0]
    rated_a = largest_rating_a(finding.figures["limit_a"])
    if rated_a:
        title = f"Fit {rated_a:g} A as {named(diagram, [device])}"
        yield Fix(title, "mechanical", with_fields(diagram, title, device, rated_a=rated_a))
