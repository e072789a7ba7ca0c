"""What it checks.
The sum of what charges each bank at once, against what its chemistry or its maker allows.

Why it matters.
A battery that is charged too fast gets hot, gases, buckles its plates or trips its protection; gel
and flooded cells age within months.

Fails when.
The sources that can run together give more than the bank may take.

Passes when.
They give less, or share a controller that limits them and the largest alone gives less.

Limits.
Ratings are summed, a controller's only as far as its panels or its generator are known to give as
much, a DC-DC charger's as far as its input allows; that a long thin lead keeps a source below its
own is not counted on. With the engine running shore power is taken to be away, and the other way
round: then DC-DC chargers that a run signal works rest. Sun and wind count in both. An alternator
with a regulator inside is no charger of a lead bank in this sense: the bank's own volts limit it.
Sources behind a relay do not count. The stated limit of a lithium bank, and that of its management
unit, belong to 6.7.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import Bank
from model.analysis.charging import Outlet, charged_in, is_lithium, outlets, regulator_of
from model.analysis.joinable import at_highest_post
from model.analysis.management import unit_of
from model.survey import Survey
from rules.charging_sum import charging_sum
from rules.lowered_output import lowered
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="charged_too_fast",
    number="3.13",
    title="Charging faster than the bank may take",
    topic="charging",
    severity="fault",
    looks_at="each bank that something charges",
    subjects=lambda survey: survey.banks,
    messages={
        "too_fast": "{sources} can charge {bank} with {given_a} at once; {bank:~it/they} may take "
                    "{most_a}.",
    },
    remedy="Lower the limit of the chargers, or let them work one after the other.",
    sources=("battery_makers", "common_practice"),
    quiet={
        "shared": "the sources share a controller that limits them together",
        "alternator": "it is an alternator with a regulator inside on a lead bank",
        "managed": "it is a lithium bank with a limit of its own or a management unit: 6.7's",
    },
    figures=("flooded_charge_max_percent", "agm_charge_max_percent", "gel_charge_max_percent",
             "lithium_charge_max_percent"),
    fix="sometimes",
)
SHARE = {"flooded": "flooded_charge_max_percent", "agm": "agm_charge_max_percent",
         "gel": "gel_charge_max_percent", "lfp": "lithium_charge_max_percent",
         "other_lithium": "lithium_charge_max_percent"}


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank by the larger of what comes with the engine and with shore power."""
    sources = [outlet for outlet in outlets(survey.graph)
               if charged_in(survey.graph, outlet.node, {}, over_relays=False) & set(bank.batteries)
               and not _limits_itself(outlet, bank, survey)]
    if not sources or _is_managed(bank, survey):
        return None
    most = [_most_a(item, survey, profile)
            for item in at_highest_post(survey.graph, bank.batteries)]
    sums = [charging_sum(survey, group) for group in _groups(sources, survey)]
    given = max(sums, key=lambda one: one.given_a)
    unknown = (*(field for one in most if isinstance(one, tuple) for field in one),
               *(field for one in sums for field in one.missing))
    most_a = sum(one for one in most if isinstance(one, float))
    where = (*bank.batteries, *given.sources)
    if not any(isinstance(one, tuple) for one in most) and given.given_a > most_a:
        return Fault("too_fast", where, {"given_a": given.given_a, "most_a": most_a},
                     {"bank": named(survey.diagram, bank.batteries),
                      "sources": named(survey.diagram, given.sources)})
    return Missing(unknown, where) if unknown else None


def _limits_itself(outlet: Outlet, bank: Bank, survey: Survey) -> bool:
    """Say whether it is an alternator with its regulator inside, on lead."""
    part = survey.diagram.components[outlet.source]
    lithium = any(is_lithium(survey.diagram.components[item]) for item in bank.batteries)
    return part.kind == "alternator" and regulator_of(survey.diagram, part) is None and not lithium


def _is_managed(bank: Bank, survey: Survey) -> bool:
    """Say whether a lithium bank has a stated limit or a management unit."""
    parts = [survey.diagram.components[item] for item in bank.batteries]
    return any(is_lithium(part) and ("max_charge_a" in part.parameters
                                     or unit_of(survey.diagram, part) is not None)
               for part in parts)


def _groups(sources: list[Outlet], survey: Survey) -> list[list[Outlet]]:
    """Return what may give at once: all together, or each alone when they share what controls
    them; an alternator's say is its regulator's.
    """
    parts = {outlet.source: survey.diagram.components[outlet.source] for outlet in sources}
    controls = [regulator_of(survey.diagram, part) or part for part in parts.values()]
    if any(part.parameters.get("shares_control") is not True for part in controls):
        return [sources]
    return [[outlet for outlet in sources if outlet.source == item] for item in parts]


def _most_a(item: str, survey: Survey, profile: Profile) -> float | tuple[str, ...]:
    """Return what a battery may take, or the fields that would tell. [A]"""
    p = survey.diagram.components[item].parameters
    if "max_charge_a" in p:
        return float(p["max_charge_a"])
    unknown = tuple(f"{item}.{name}" for name in ("chemistry", "capacity_ah") if name not in p)
    return unknown or float(p["capacity_ah"] * profile.value(SHARE[p["chemistry"]]) / 100)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to lower the limit of a source that has one."""
    def settles(after: Survey) -> bool:
        return not any(isinstance(check(bank, after, profile), Fault)
                       for bank in after.banks if bank.batteries[0] == finding.where[0])

    over_a = finding.figures["given_a"] - finding.figures["most_a"]
    sources = (item for item in finding.where
               if survey.diagram.components[item].kind != "battery_bank")
    yield from lowered(survey, sources, over_a, settles)
