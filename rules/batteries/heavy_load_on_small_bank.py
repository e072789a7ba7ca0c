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
Loads are judged one by one, not summed. Behind a DC-DC converter a load belongs to the bank that
stands there; without one it counts by what the converter takes for it. Moments are what windlasses,
winches and thrusters run for, and loads that are recorded as running so briefly. Lithium belongs to
6.8.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from msgspec import Struct

from model.analysis.bank_strings import over_strings
from model.analysis.banks import Bank
from model.analysis.charging import charged
from model.analysis.circuit_switches import supplied_in_use
from model.diagram import Component
from model.kinds.storage import LITHIUM
from model.survey import Survey
from rules.daily_use import current_field, drawn_a
from rules.drawn import taken_a
from rules.motors import is_short_time_motor, runs_for_moments
from rules.new_batteries import larger
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


class Taken(Struct, frozen=True):
    """What a load takes from a bank through the converters on the way, and what the bank bears of
    such a load [A]; `missing` are the fields that would tell.
    """

    load: str
    passed: tuple[str, ...]
    limit_a: float
    taken_a: float = 0.0
    missing: tuple[str, ...] = ()


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
        "lasting": "{load} draws {drawn_a} from {bank}{through}; {limit_a} is what it bears for "
                   "long.",
        "short": "{load} draws {drawn_a} from {bank}{through}; {limit_a} is what it bears for "
                 "moments.",
    },
    remedy="Fit a larger bank.",
    sources=("battery_makers",),
    quiet={"alternator": "it is a motor of short times, and an alternator charges the bank"},
    figures=("flooded_load_ratio", "agm_load_ratio", "short_load_ratio", "moments_s",
             "converter_efficiency_ratio"),
    fix="sometimes",
)


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank by the load that is farthest over what it bears."""
    parts = survey.diagram.components
    supplied = supplied_in_use(survey.graph, bank.batteries)
    loads = [item for item in in_order(supplied) if parts[item].kind != "starter"]
    if not loads:
        return None
    asked = [f"{item}.{name}" for item in bank.batteries for name in ("capacity_ah", "chemistry")
             if name not in parts[item].parameters]
    if asked:
        return Missing(tuple(asked), bank.batteries)
    taken = [_taken(item, supplied[item], bank, survey, profile)
             for item in loads if not _is_helped(parts[item], bank, survey)]
    over = [one for one in taken if one.taken_a > one.limit_a]
    if not over:
        asked = [field for one in taken for field in one.missing]
        return Missing(tuple(dict.fromkeys(asked)), bank.batteries) if asked else None
    worst = max(over, key=lambda one: one.taken_a / one.limit_a)
    through = f" through {named(survey.diagram, worst.passed)}" if worst.passed else ""
    short = runs_for_moments(parts[worst.load], profile.value("moments_s"))
    return Fault("short" if short else "lasting", (worst.load, *worst.passed, *bank.batteries),
                 {"drawn_a": round(worst.taken_a, 1), "limit_a": round(worst.limit_a, 1)},
                 {"load": named(survey.diagram, [worst.load]), "through": through,
                  "bank": named(survey.diagram, bank.batteries)})


def _taken(
    load: str, passed: tuple[str, ...], bank: Bank, survey: Survey, profile: Profile
) -> Taken:
    """Return what a load takes from a bank, through the converters on the way."""
    parts = survey.diagram.components
    limit_a = _limit_a(parts[load], [parts[item] for item in bank.batteries], survey, profile)
    stated_a = drawn_a(load, survey)
    most_a = _let_through_a(load, survey) if stated_a is None else stated_a
    unsaid = (current_field(load, survey),) if stated_a is None else ()
    most = taken_a(most_a, (parts[item] for item in passed), profile)
    if isinstance(most, tuple):
        return Taken(load, passed, limit_a, missing=(*unsaid, *most))
    if unsaid:
        return Taken(load, passed, limit_a, missing=unsaid if most > limit_a else ())
    return Taken(load, passed, limit_a, round(most, 3))


def _limit_a(
    load: Component, parts: list[Component], survey: Survey, profile: Profile
) -> float:
    """Return what the batteries bear of such a load. [A]."""
    short = runs_for_moments(load, profile.value("moments_s"))
    each = {part.id: part.parameters["capacity_ah"] * profile.value(
        "short_load_ratio" if short else SHARES[part.parameters["chemistry"]]) for part in parts}
    return over_strings(survey.graph, each, each)


def _let_through_a(load: str, survey: Survey) -> float:
    """Return what a fuse or breaker before a load lets through to it at most. [A]."""
    node = survey.graph.number[f"{load}.+"]
    bounds = survey.largest_before(node)
    return math.inf if node in survey.unfused_reach or bounds is None else bounds[1]


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
