"""What it checks.
Each shore inlet: whether a device that trips on leaking current stands before everything it feeds.

Why it matters.
A leak of a few hundredths of an ampere through a body kills, on board and in the water beside the
boat. A plain breaker does not notice it.

Fails when.
Something is fed from shore with no device of that sensitivity on the way.

Passes when.
One stands before all of it.

Limits.
What an isolating transformer feeds is not fed from the quay, and is not looked at here.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.alternating import AcSource, consumers, inlets, terminal, unguarded
from model.survey import Survey
from rules.fixing import inserted
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import NEAR_M
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.tying import leads_of
from rules.wording import named

RULE = Rule(
    slug="no_residual_protection",
    number="9.2",
    title="No residual-current or leakage protection",
    topic="alternating",
    severity="danger",
    looks_at="each shore inlet",
    subjects=lambda survey: inlets(survey.graph),
    messages={"none": "{inlet} feeds {parts} with no device before it that trips at a leak of "
                      "{limit_ma}."},
    remedy="Fit a residual-current device at the main.",
    sources=("abyc_e11_leak", "iso_ac"),
    quiet={"transformer": "an isolating transformer parts it from the quay"},
    figures=("leak_trip_ma",),
    fix="sometimes",
)


def check(inlet: AcSource, survey: Survey, profile: Profile) -> Answer:
    """Judge one inlet by every way to what it feeds."""
    graph, limit = survey.graph, profile["leak_trip_ma"]
    past = unguarded(graph, inlet, limit.value)
    parts = [part.id for part in consumers(graph) if terminal(graph, part, "L") in past.bare]
    if parts:
        parts = in_order(parts)
        return Fault("none", (inlet.part.id, *parts), {"limit_ma": limit}, {
            "inlet": named(survey.diagram, [inlet.part.id]),
            "parts": named(survey.diagram, parts)})
    if not any(terminal(graph, part, "L") in past.unsure for part in consumers(graph)):
        return None
    unsaid = in_order(past.unsaid)
    return Missing(tuple(f"{item}.residual_ma" for item in unsaid), (inlet.part.id, *unsaid))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a residual-current breaker behind the inlet, rated as the inlet."""
    diagram, inlet = survey.diagram, finding.where[0]
    cables = leads_of(survey, inlet, "L")
    if len(cables) == 1:
        (cable,) = cables
        (at,) = [f"{e.component}.{e.terminal}" for e in cable.ends() if e.component == inlet]
        title = f"Fit a residual-current breaker in {named(diagram, [cable.id])}"
        yield Fix(title, "choice", inserted(
            diagram, title, cable.id, at, "residual_current_breaker", NEAR_M,
            rated_a=diagram.components[inlet].parameters.get("rated_a"),
            residual_ma=int(finding.figures["limit_ma"]), poles_opened="L_and_N"))
