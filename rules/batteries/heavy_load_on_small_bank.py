"""What it checks.
The heaviest lasting load and the heaviest short one on each lead bank, against its capacity.

Why it matters.
A lead battery that is asked for too much gives a fraction of its capacity, and its volts fall until
the electronics drop out.

Fails when.
A lasting load draws more than the figure's share of the capacity, or one that runs for moments more
than so many times the capacity.

Passes when.
They draw less.

Limits.
Loads are judged one by one, not summed. Moments are what windlasses, winches and thrusters run for,
and loads that are recorded as running so briefly. Lithium belongs to 6.8.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.bank_strings import over_strings
from model.analysis.banks import Bank
from model.analysis.charging import charged
from model.analysis.circuit_switches import loads_in_use
from model.diagram import Component
from model.kinds.storage import LITHIUM
from model.survey import Survey
from rules.daily_use import current_field, drawn_a
from rules.motors import is_short_time_motor, runs_for_moments
from rules.new_batteries import larger
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

SHARES = {"flooded": "flooded_load_ratio", "gel": "flooded_load_ratio", "agm": "agm_load_ratio"}

RULE = Rule(
    slug="heavy_load_on_small_bank",
    number="5.8",
    title="Heavy load on a small bank",
    topic="batteries",
    severity="fault",
    looks_at="each lead bank",
    subjects=lambda survey: [
        bank for bank in survey.banks
        if not {survey.diagram.components[b].parameters.get("chemistry") for b in bank.batteries}
        & LITHIUM],
    messages={
        "lasting": "{load} draws {drawn_a} from {bank}; {limit_a} is what it bears for long.",
        "short": "{load} draws {drawn_a} from {bank}; {limit_a} is what it bears for moments.",
    },
    remedy="Fit a larger bank.",
    sources=("battery_makers",),
    quiet={"alternator": "it is a motor of short times, and an alternator charges the bank"},
    figures=("flooded_load_ratio", "agm_load_ratio", "short_load_ratio", "moments_s"),
    fix="sometimes",
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank by the load that is farthest over what it bears."""
    loads = [survey.diagram.components[item]
             for item in in_order(loads_in_use(survey.graph, bank.batteries))
             if survey.diagram.components[item].kind != "starter"]
    if not loads:
        return None
    parts = [survey.diagram.components[item] for item in bank.batteries]
    asked = [f"{part.id}.{name}" for part in parts for name in ("capacity_ah", "chemistry")
             if name not in part.parameters]
    if asked:
        return Missing(tuple(asked), bank.batteries)
    judged = [load for load in loads if not _is_helped(load, bank, survey)]
    limits = {load.id: _limit_a(load, parts, survey, profile) for load in judged}
    drawn = {item: amps for item in limits if (amps := drawn_a(item, survey)) is not None}
    over = {item: amps / limits[item] for item, amps in drawn.items() if amps > limits[item]}
    if not over:
        asked = [current_field(item, survey) for item, limit_a in limits.items()
                 if item not in drawn and not _is_fused_below(item, limit_a, survey)]
        return Missing(tuple(asked), bank.batteries) if asked else None
    worst = max(over, key=lambda item: over[item])
    short = runs_for_moments(survey.diagram.components[worst], profile.value("moments_s"))
    return Fault("short" if short else "lasting", (worst, *bank.batteries),
                 {"drawn_a": round(drawn[worst], 1), "limit_a": round(limits[worst], 1)},
                 {"load": named(survey.diagram, [worst]),
                  "bank": named(survey.diagram, bank.batteries)})


def _limit_a(
    load: Component, parts: list[Component], survey: Survey, profile: Profile
) -> float:
    """Return what the batteries bear of such a load. [A]."""
    short = runs_for_moments(load, profile.value("moments_s"))
    each = {part.id: part.parameters["capacity_ah"] * profile.value(
        "short_load_ratio" if short else SHARES[part.parameters["chemistry"]]) for part in parts}
    return over_strings(survey.graph, each, each)


def _is_fused_below(load: str, limit_a: float, survey: Survey) -> bool:
    """Say whether a fuse or breaker before a load lets no more through than the bank bears."""
    node = survey.graph.number[f"{load}.+"]
    bounds = survey.largest_before(node)
    return node not in survey.unfused_reach and bounds is not None and bounds[1] <= limit_a


def _is_helped(load: Component, bank: Bank, survey: Survey) -> bool:
    """Say whether it is a motor of short times on a bank that an alternator charges."""
    graph = survey.graph
    alternators = [p.id for p in survey.diagram.components.values() if p.kind == "alternator"]
    return is_short_time_motor(load) and any(
        charged(graph, graph.number[f"{item}.+"]) & set(bank.batteries) for item in alternators)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the capacity that bears the load."""
    ratio = finding.figures["drawn_a"] / finding.figures["limit_a"]
    yield from larger(survey, finding.where[1:], ratio)
