"""What it checks.
The volts lost between the battery's post and the starter, out and back, while it cranks.

Why it matters.
A starter that gets too few volts turns slowly, draws its current for longer and does not start a
cold engine.

Fails when.
The drop is above half a volt on 12 V, in proportion on other systems. From a lower figure on it is
told as a caution.

Passes when.
The drop is within the limit, or within the larger one that the engine's maker allows.

Limits.
Cranking current and copper at 20 °C, with the switches as they usually stand; the contact of a
switch counts next to nothing, so a worn one is not seen. The battery's own sag is not part of it.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.voltage_drop import Drop
from model.survey import Survey
from rules.drop_limits import enough_copper
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


def _starters(survey: Survey) -> Iterator[Drop]:
    for drop in survey.drops:
        if survey.diagram.components[drop.item].kind == "starter":
            yield drop


RULE = Rule(
    slug="starter_drop",
    number="4.4",
    title="Starter cable drop too high",
    topic="conductors",
    severity="fault",
    looks_at="each starter that a battery feeds",
    subjects=_starters,
    messages={
        "drop": "{starter} loses {drop_v} ({drop_percent}) between {battery} and back while it "
                "cranks with {current_a}; the limit is {limit_percent}. {wire} causes {share_v} "
                "of it.",
        "much": "{starter} loses {drop_v} ({drop_percent}) between {battery} and back while it "
                "cranks with {current_a}; more than {limit_percent} is worth a look. {wire} "
                "causes {share_v} of it.",
        "maker": "{starter} loses {drop_v} ({drop_percent}) between {battery} and back while it "
                 "cranks with {current_a}; the engine's maker allows {allowed_v}. {wire} causes "
                 "{share_v} of it.",
    },
    remedy="Fit thicker or shorter starter cables, both poles, or move the battery.",
    sources=("engine_makers", "common_practice"),
    quiet={"maker": "the engine's maker allows more"},
    figures=("starter_drop_max_percent", "starter_drop_caution_percent"),
    fix="sometimes",
)


def check(drop: Drop, survey: Survey, profile: Profile) -> Answer:
    """Judge one starter."""
    most, caution = profile["starter_drop_max_percent"], profile["starter_drop_caution_percent"]
    allowed_v = _allowed_v(drop, survey)
    figures = {"drop_v": drop.drop_v, "drop_percent": drop.percent,
               "current_a": drop.current_a, "share_v": drop.shares[drop.culprit]}
    names = {"starter": named(survey.diagram, [drop.item]),
             "battery": named(survey.diagram, [drop.source]),
             "wire": named(survey.diagram, [drop.culprit])}
    where = (drop.culprit, drop.item)
    if allowed_v is not None and drop.drop_v > allowed_v:
        return Fault("maker", where, {**figures, "allowed_v": allowed_v}, names)
    if allowed_v is None and drop.percent > caution.value:
        is_fault = drop.percent > most.value
        return Fault("drop" if is_fault else "much", where,
                     {**figures, "limit_percent": most if is_fault else caution},
                     names, severity="fault" if is_fault else "caution")
    return Missing(drop.missing, (drop.item,)) if drop.missing else None


def _allowed_v(drop: Drop, survey: Survey) -> float | None:
    """Return the drop that the engine's maker allows, if it is recorded. [V]"""
    components = survey.diagram.components
    engine = components.get(components[drop.item].parameters.get("driven_by", ""))
    return None if engine is None else engine.parameters.get("max_starter_drop_v")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the copper that brings the starter within its limit."""
    (drop,) = (drop for drop in _starters(survey) if drop.item == finding.where[1])
    allowed_v = _allowed_v(drop, survey)
    limit = (profile.value("starter_drop_caution_percent") if allowed_v is None
             else 100 * allowed_v / drop.nominal_v)
    yield from enough_copper(survey, {drop.item: limit}, profile)
