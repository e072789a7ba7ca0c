"""What it checks.
The sum of what charges each bank at once, against what its chemistry or its maker allows.

Why it matters.
A battery that is charged too fast gets hot, gases, buckles its plates or trips its protection; gel
and flooded cells age within months.

Fails when.
The sources that can run together give more than the bank may take.

Passes when.
They give less, or share a controller that limits them.

Limits.
Ratings are summed: that a long thin lead keeps a source below its own is not counted on. With the
engine running shore power is taken to be away, and the other way round; sun and wind count
in both. An alternator with a regulator inside is no charger of a lead bank in this sense: the
bank's own volts limit it. Sources behind a relay do not count. The stated limit of
a lithium bank, and that of its management unit, belong to 6.7.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import Bank
from model.analysis.charging import FROM_AC, Outlet, charged_in, is_lithium, outlets, regulator_of
from model.analysis.joinable import post_v
from model.survey import Survey
from rules.charging_output import Output, output_at
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
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
        "too_fast": "{sources} can charge {bank} with {given_a} at once; it may take {most_a}.",
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
)
SHARE = {"flooded": "flooded_charge_max_percent", "agm": "agm_charge_max_percent",
         "gel": "gel_charge_max_percent", "lfp": "lithium_charge_max_percent",
         "other_lithium": "lithium_charge_max_percent"}


def check(bank: Bank, survey: Survey, profile: Profile) -> Answer:
    """Judge one bank by the larger of what comes with the engine and with shore power."""
    sources = [outlet for outlet in outlets(survey.graph)
               if charged_in(survey.graph, outlet.node, {}, over_relays=False) & set(bank.batteries)
               and not _limits_itself(outlet, bank, survey)]
    if _is_managed(bank, survey) or _is_shared(sources, survey):
        return None
    most = [_most_a(item, survey, profile) for item in _strings(bank, survey)]
    groups = [[output_at(survey, outlet) for outlet in group]
              for group in _together(sources, survey)]
    group = max(groups, key=_known_a)
    unknown = (*(field for one in most if isinstance(one, tuple) for field in one),
               *(field for output in group for field in output.missing))
    given_a, most_a = _known_a(group), sum(one for one in most if isinstance(one, float))
    names = in_order(output.source for output in group)
    where = (*bank.batteries, *names)
    if not any(isinstance(one, tuple) for one in most) and given_a > most_a:
        return Fault("too_fast", where, {"given_a": given_a, "most_a": most_a},
                     {"bank": named(survey.diagram, bank.batteries),
                      "sources": named(survey.diagram, names)})
    return Missing(unknown, where) if unknown else None


def _limits_itself(outlet: Outlet, bank: Bank, survey: Survey) -> bool:
    """Say whether it is an alternator with its regulator inside, on lead."""
    part = survey.diagram.components[outlet.source]
    lithium = any(is_lithium(survey.diagram.components[item]) for item in bank.batteries)
    return part.kind == "alternator" and regulator_of(survey.diagram, part) is None and not lithium


def _is_managed(bank: Bank, survey: Survey) -> bool:
    """Say whether a lithium bank has a stated limit or a management unit."""
    parts = [survey.diagram.components[item] for item in bank.batteries]
    return any(is_lithium(part) and {"max_charge_a", "management_unit"} & part.parameters.keys()
               for part in parts)


def _is_shared(sources: list[Outlet], survey: Survey) -> bool:
    """Say whether all sources share what controls them; an alternator's say is its regulator's."""
    parts = [survey.diagram.components[outlet.source] for outlet in sources]
    controls = [regulator_of(survey.diagram, part) or part for part in parts]
    return all(part.parameters.get("shares_control") is True for part in controls)


def _together(sources: list[Outlet], survey: Survey) -> Iterator[list[Outlet]]:
    """Yield what charges with shore power, and what charges with the engine."""
    for away in (("alternator",), FROM_AC):
        yield [o for o in sources if survey.diagram.components[o.source].kind not in away]


def _known_a(group: list[Output]) -> float:
    """Return what sources give as far as it is known, those of several outputs once. [A]"""
    return sum({out.source: out.amperes for out in group if out.amperes is not None}.values())


def _strings(bank: Bank, survey: Survey) -> list[str]:
    """Return the batteries at the bank's highest post: of those in series one for all."""
    volts = {item: post_v(survey.graph, item) for item in bank.batteries}
    highest_v = max((v for v in volts.values() if v is not None), default=None)
    return [item for item in bank.batteries if volts[item] == highest_v]


def _most_a(item: str, survey: Survey, profile: Profile) -> float | tuple[str, ...]:
    """Return what a battery may take, or the fields that would tell. [A]"""
    p = survey.diagram.components[item].parameters
    if "max_charge_a" in p:
        return float(p["max_charge_a"])
    unknown = tuple(f"{item}.{name}" for name in ("chemistry", "capacity_ah") if name not in p)
    return unknown or float(p["capacity_ah"] * profile.value(SHARE[p["chemistry"]]) / 100)

