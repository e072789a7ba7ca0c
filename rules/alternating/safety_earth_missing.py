"""What it checks.
Whether the earth of each AC consumer is joined to the earth of what feeds it.

Why it matters.
With the earth missing, a fault makes the metal case live, and nothing trips.

Fails when.
No earth conductor joins the consumer's case to its supply.

Passes when.
It does, or the gear is double insulated.

Limits.
Earths cannot be switched on the drawing: every kind passes them through.
"""

from __future__ import annotations

from model.analysis.alternating import ac_sources, consumers, fed_from, terminal
from model.diagram import Component
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="safety_earth_missing",
    number="9.8",
    title="Safety earth missing or switched",
    topic="alternating",
    severity="danger",
    looks_at="each AC consumer that something feeds",
    subjects=lambda survey: consumers(survey.graph),
    messages={"none": "{part} is fed with AC and no earth conductor comes with it."},
    remedy="Run an unswitched earth to it.",
    sources=("abyc_e11",),
    quiet={"double": "it is double insulated"},
)


def check(part: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one consumer."""
    graph = survey.graph
    live, earth = (terminal(graph, part, pole) for pole in ("L", "E"))
    feeding = [s for s in ac_sources(graph) if live in fed_from(graph, s.live)]
    if not feeding or any(earth in fed_from(graph, source.earth) for source in feeding):
        return None
    double = part.parameters.get("double_insulated")
    if double is None:
        return Missing((f"{part.id}.double_insulated",), (part.id,))
    return None if double else Fault(
        "none", (part.id,), {}, {"part": named(survey.diagram, [part.id])})
