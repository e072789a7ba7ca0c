"""What it checks.
The volts lost on the way to each ordinary load, from the post that feeds it and back again, with
all that normally runs; a windlass, winch or thruster while it runs.

Why it matters.
Motors run slow and hot, compressors do not start, lamps fade. The lost volts warm the conductor.

Fails when.
The drop is above the limit for ordinary circuits. Refrigerators, inverters, pumps and heaters are
told as a caution from a lower figure on.

Passes when.
The drop is within the limit, or a motor still has the volts its maker asks for.

Limits.
Copper at 20 °C; joints and contacts count next to nothing. A return that is not drawn mirrors its
feed. An inverter is judged by what the modes say it draws. What a critical circuit suffers from
too belongs to 4.2, starters to 4.4.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.voltage_drop import Drop
from model.survey import Survey
from rules.drop_limits import (
    LIMITS,
    Group,
    enough_copper,
    groups,
    is_critical,
    is_over,
    limit_of,
    role_of,
)
from rules.profiles import Figure, Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, with_name

SENSITIVE = frozenset({"refrigerator", "inverter", "inverter_charger", "pump", "heater",
                       "glow_plug"})
SHORT_TIME = frozenset({"windlass", "winch", "thruster"})

RULE = Rule(
    slug="voltage_drop_ordinary",
    number="4.3",
    title="Voltage drop too high on an ordinary circuit",
    topic="conductors",
    severity="fault",
    looks_at="each conductor that causes most of the drop of some load",
    subjects=groups,
    messages={
        "drop": "{worst} loses {drop_v} ({drop_percent}) between {source} and back, counted with "
                "{case}; {limit_percent} are allowed. {wire} causes "
                "{share_v} of it.",
        "shared": "{worst} loses {drop_v} ({drop_percent}) between {source} and back, counted "
                  "with {case}; {limit_percent} are allowed. {wire} "
                  "causes {share_v} of it, and of what is lost by {others}.",
    },
    remedy="Fit a thicker conductor.",
    sources=("abyc_e11_drop", "iso_drop", "load_makers"),
    quiet={
        "maker_volts": "a windlass, winch or thruster has the volts its maker asks for",
        "small": "it draws next to nothing",
        "critical": "a critical circuit suffers from the same conductor: 4.2 judges it",
    },
    figures=(*LIMITS, "sensitive_drop_caution_percent"),
    fix="sometimes",
)


def check(group: Group, survey: Survey, profile: Profile) -> Answer:
    """Judge what hangs on one conductor; 4.2 judges it when a critical circuit suffers."""
    if any(is_over(d, survey, profile) and is_critical(d, survey, profile) for d in group.drops):
        return None
    ordinary = [drop for drop in group.drops if not is_critical(drop, survey, profile)]
    over = [drop for drop in ordinary if _is_too_much(drop, survey, profile)]
    if over:
        return _fault(group, over, survey, profile)
    unknown = [drop for drop in ordinary if drop.missing]
    if unknown:
        fields = tuple(dict.fromkeys(field for drop in unknown for field in drop.missing))
        return Missing(fields, tuple(drop.item for drop in unknown))
    return None


def _is_too_much(drop: Drop, survey: Survey, profile: Profile) -> bool:
    least_v = survey.diagram.components[drop.item].parameters.get("maker_min_v")
    if role_of(survey, drop.item) in SHORT_TIME and least_v is not None and drop.volts >= least_v:
        return False
    return drop.current_a >= profile.value("drop_least_a") and (
        drop.percent > _limit(drop, survey, profile).value)


def _limit(drop: Drop, survey: Survey, profile: Profile) -> Figure:
    """Return the limit a load is judged by: the lower one of a sensitive load. [%]"""
    if role_of(survey, drop.item) in SENSITIVE:
        return profile["sensitive_drop_caution_percent"]
    return limit_of(drop, survey, profile)


def _fault(group: Group, over: list[Drop], survey: Survey, profile: Profile) -> Fault:
    ordinary = profile["ordinary_drop_max_percent"]
    is_fault = any(drop.percent > ordinary.value for drop in over)
    worst = max(over, key=lambda drop: drop.percent)
    items = sorted((drop.item for drop in over), key=lambda item: item != worst.item)
    return Fault(
        "shared" if items[1:] else "drop", (group.wire, *items),
        {"drop_v": worst.drop_v, "drop_percent": worst.percent,
         "share_v": worst.shares[group.wire],
         "limit_percent": ordinary if is_fault else _limit(worst, survey, profile)},
        {"worst": with_name(survey.diagram, worst.item), "case": worst.case,
         "source": named(survey.diagram, [worst.source]),
         "wire": named(survey.diagram, [group.wire]), "others": named(survey.diagram, items[1:])},
        severity="fault" if is_fault else "caution")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the copper that brings all of them within their limits."""
    limits = {drop.item: _limit(drop, survey, profile).value
              for drop in survey.drops if drop.item in finding.where[1:]}
    yield from enough_copper(survey, limits, profile)
