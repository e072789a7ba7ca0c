"""What it checks.
Each DC-DC charger that takes from a bank which nothing charges while the engine is stopped: what
makes it stop.

Why it matters.
A converter without a signal goes on charging the house bank from the start bank after the engine
has stopped, until the engine cannot be started any more.

Fails when.
No run signal is wired to it, and no volts are recorded at which it starts and stops that are above
what a resting battery has.

Passes when.
A run signal works it, or it starts and stops above those volts, or it takes from a house bank that
sun, wind or shore power charge too as the boat is lived in.

Limits.
Thresholds are compared as recorded; the drop of its input lead is left out.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.battery_model import BLOCK_V
from model.analysis.charging import is_lithium, works_by_signal
from model.analysis.fed_by import fed_by
from model.analysis.joinable import post_v
from model.analysis.reach import live_passes, reach, source_nodes
from model.analysis.usual_states import usual_states
from model.diagram import Component
from model.survey import Survey
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="converter_drains_source",
    number="3.11",
    title="DC-DC charger drains its source when the engine is stopped",
    topic="charging",
    severity="fault",
    looks_at="each DC-DC charger that batteries feed",
    subjects=lambda survey: [c for c in survey.diagram.components.values()
                             if c.kind == "dc_dc_charger"],
    messages={
        "unbounded": "{converter} goes on taking from {banks} when the engine is stopped: no run "
                     "signal, and no volts at which it stops.",
        "too_low": "{converter} goes on taking from {banks} when the engine is stopped: it starts "
                   "at {start_v} and stops at {stop_v}; above {least_start_v} and {least_stop_v} "
                   "it would rest.",
    },
    remedy="Connect the run signal, or set the volts at which it starts and stops.",
    sources=("converter_makers",),
    quiet={
        "signal": "a run signal is wired to it",
        "thresholds": "it starts and stops above what a resting battery has",
        "house": "it takes from a house bank that sun, wind or shore power charge",
    },
    figures=("lead_start_min_v", "lead_stop_min_v", "lithium_threshold_min_v"),
    fix="always",
)
THRESHOLDS = ("start_above_v", "stop_below_v")
LASTING = ("sun", "wind", "shore", "generator")


def check(converter: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one converter by its signal, its thresholds, and what it takes from."""
    graph = survey.graph
    banks = in_order(fed_by(graph, [graph.number[f"{converter.id}.in+"]]))
    if not banks or works_by_signal(graph, converter):
        return None
    answer = _judged(converter, banks, survey, profile)
    if answer is None or not _is_kept_full(banks, survey):
        return answer
    duties = {item: survey.diagram.components[item].parameters.get("duty") for item in banks}
    if "start" in duties.values():
        return answer
    unsaid = tuple(f"{item}.duty" for item, duty in duties.items() if duty is None)
    return Missing(unsaid, (converter.id, *banks)) if unsaid else None


def _judged(
    converter: Component, banks: list[str], survey: Survey, profile: Profile
) -> Answer:
    """Judge what would make it stop."""
    p = converter.parameters
    given = [p[name] for name in THRESHOLDS if name in p]
    if len(given) == len(THRESHOLDS):
        return _compared(converter, banks, survey, profile)
    where = (converter.id, *banks)
    if p.get("run_signal") is None:
        unsaid = [name for name in ("run_signal", *THRESHOLDS) if name not in p]
        return Missing(tuple(f"{converter.id}.{name}" for name in unsaid), where)
    return Fault("unbounded", where, {}, {"converter": named(survey.diagram, [converter.id]),
                                          "banks": named(survey.diagram, banks)})


def _compared(
    converter: Component, banks: list[str], survey: Survey, profile: Profile
) -> Answer:
    """Compare both thresholds with what the banks' chemistry has at rest."""
    parts = [survey.diagram.components[item] for item in banks]
    blocks = max(post_v(survey.graph, item) or BLOCK_V for item in banks) / BLOCK_V
    start_v, stop_v = (converter.parameters[name] / blocks for name in THRESHOLDS)
    lithium = profile.value("lithium_threshold_min_v")
    above_lithium = min(start_v, stop_v) > lithium
    above_lead = start_v >= profile.value("lead_start_min_v") and (
        stop_v >= profile.value("lead_stop_min_v"))
    if above_lithium or (above_lead and not any(is_lithium(part) is not False for part in parts)):
        return None
    unsaid = tuple(f"{part.id}.chemistry" for part in parts if is_lithium(part) is None)
    if above_lead and unsaid:
        return Missing(unsaid, (converter.id, *banks))
    limits = (lithium, lithium) if any(map(is_lithium, parts)) else (
        profile.value("lead_start_min_v"), profile.value("lead_stop_min_v"))
    return Fault("too_low", (converter.id, *banks),
                 {"start_v": start_v * blocks, "stop_v": stop_v * blocks,
                  "least_start_v": limits[0] * blocks, "least_stop_v": limits[1] * blocks},
                 {"converter": named(survey.diagram, [converter.id]),
                  "banks": named(survey.diagram, banks)})


def _is_kept_full(banks: list[str], survey: Survey) -> bool:
    """Say whether sun, wind or shore power comes to the banks in some usual state."""
    graph = survey.graph
    goals = {graph.number[f"{item}.+"] for item in banks}
    starts = [node for item, kind in graph.kinds.items() if kind.source is not None
              and kind.source.kind in LASTING for node in source_nodes(graph, item)]
    return any(goals & reach(graph, starts, live_passes(graph, state.positions))
               for state in usual_states(survey.diagram))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to connect the run signal."""
    converter = finding.where[0]
    title = f"Connect the run signal to {named(survey.diagram, [converter])}"
    yield Fix(title, "choice", with_fields(survey.diagram, title, converter, run_signal="wired"))
