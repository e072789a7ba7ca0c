"""What it checks.
The volts lost on the way to each critical load and to each panel, from the post that feeds it and
back again, with all that normally runs.

Why it matters.
Navigation lights go dim, a radio resets while it transmits, a blower moves too little air. Volts
lost in copper are missing at the load and warm the conductor.

Fails when.
The drop is above the limit for critical circuits. Whether bilge pumps and electronics are among
them depends on the rule set.

Passes when.
The drop is within the limit.

Limits.
Copper at 20 °C; joints and contacts count next to nothing. A return that is not drawn mirrors its
feed. Consumers behind a converter are judged from the converter on. Loads that share one thin
conductor are one finding, about that conductor.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.survey import Survey
from rules.drop_limits import LIMITS, Group, enough_copper, groups, is_critical, is_over, limit_of
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, with_name

RULE = Rule(
    slug="voltage_drop_critical",
    number="4.2",
    title="Voltage drop too high on a critical circuit",
    topic="conductors",
    severity="fault",
    looks_at="each conductor that causes most of the drop of some load or panel",
    subjects=groups,
    messages={
        "drop": "{worst} loses {drop_v} ({drop_percent}) between {source} and back, counted with "
                "{case}; {limit_percent} are allowed on a critical circuit. {wire} causes "
                "{share_v} of it.",
        "shared": "{worst} loses {drop_v} ({drop_percent}) between {source} and back, counted "
                  "with {case}; {limit_percent} are allowed on a critical circuit. {wire} "
                  "causes {share_v} of it, and of what is lost by {others}.",
    },
    remedy="Fit a thicker conductor, a lamp of lower power, or shorten the run.",
    sources=("abyc_e11_drop", "iso_drop"),
    quiet={
        "small": "it draws next to nothing",
        "ordinary": "it is no critical circuit: 4.3 judges it",
    },
    figures=LIMITS,
    fix="sometimes",
)


def check(group: Group, survey: Survey, profile: Profile) -> Answer:
    """Judge what hangs on one conductor."""
    over = [drop for drop in group.drops if is_over(drop, survey, profile)]
    critical = [drop for drop in over if is_critical(drop, survey, profile)]
    if critical:
        worst = max(critical, key=lambda drop: drop.percent)
        items = sorted((drop.item for drop in over), key=lambda item: item != worst.item)
        return Fault(
            "shared" if items[1:] else "drop", (group.wire, *items),
            {"drop_v": worst.drop_v, "drop_percent": worst.percent,
             "share_v": worst.shares[group.wire],
             "limit_percent": limit_of(worst, survey, profile)},
            {"worst": with_name(survey.diagram, worst.item), "case": worst.case,
             "source": named(survey.diagram, [worst.source]),
             "wire": named(survey.diagram, [group.wire]),
             "others": named(survey.diagram, items[1:])})
    unknown = [drop for drop in group.drops
               if drop.missing and is_critical(drop, survey, profile)]
    if unknown:
        fields = tuple(dict.fromkeys(field for drop in unknown for field in drop.missing))
        return Missing(fields, tuple(drop.item for drop in unknown))
    return None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the copper that brings all of them within their limits."""
    limits = {drop.item: limit_of(drop, survey, profile).value
              for drop in survey.drops if drop.item in finding.where[1:]}
    yield from enough_copper(survey, limits, profile)
