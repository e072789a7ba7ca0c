"""What it checks.
Inverters that feed fixed wiring: whether they are made for it.

Why it matters.
A portable inverter has both poles live against earth. In fixed wiring its first fault is to a case
somebody holds, and no device aboard sees it.

Fails when.
An inverter that is not made for fixed wiring, or whose output floats, feeds a panel, breaker or
change-over.

Passes when.
It is made for it, or feeds a socket of its own.

Limits.
The neutral of inverter-chargers belongs to 9.5.
"""

from __future__ import annotations

from model.analysis.alternating import AcSource, ac_sources, fed_from
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

FIXED = ("ac_panel", "ac_breaker", "residual_current_breaker", "ac_transfer_switch")

RULE = Rule(
    slug="portable_inverter_fixed",
    number="9.13",
    title="Portable inverter wired into the AC panel",
    topic="alternating",
    severity="danger",
    looks_at="each inverter that feeds fixed wiring",
    subjects=lambda survey: [source for source in ac_sources(survey.graph)
                             if source.part.kind == "inverter" and _is_fixed(source, survey)],
    messages={
        "portable": "{inverter} feeds fixed wiring and is not made for it.",
        "floating": "{inverter} feeds fixed wiring, and both poles of its output float.",
    },
    remedy="Fit an inverter that is made for fixed wiring.",
    sources=("surveyors",),
    quiet={"socket": "it feeds a socket of its own"},
)


def _is_fixed(source: AcSource, survey: Survey) -> bool:
    graph, parts = survey.graph, survey.diagram.components
    return any(parts[graph.component_of[node]].kind in FIXED
               for node in fed_from(graph, source.live))


def check(source: AcSource, survey: Survey, profile: Profile) -> Answer:
    """Judge one inverter."""
    part = source.part
    made, neutral = (part.parameters.get(n) for n in ("for_fixed_wiring", "output_neutral"))
    names = {"inverter": named(survey.diagram, [part.id])}
    if made is False:
        return Fault("portable", (part.id,), {}, names)
    if neutral == "floating":
        return Fault("floating", (part.id,), {}, names)
    return Missing((f"{part.id}.for_fixed_wiring",), (part.id,)) if made is None else None
