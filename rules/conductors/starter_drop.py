"""What it checks.
The volts lost between the battery's post and the starter, out and back, while it cranks: as the
switches usually stand, from each bank alone at a selector, and by a link from another bank.

Why it matters.
A starter that gets too few volts turns slowly, draws its current for longer and does not start a
cold engine.

Fails when.
The drop is above half a volt on 12 V, in proportion on other systems. From a lower figure on it is
told as a caution. Of several ways to crank the worst is told; a way that serves only in need, by a
link while the usual battery is flat, is a caution at most and has no lower figure.

Passes when.
The drop is within the limit, or within the larger one that the engine's maker allows.

Limits.
Cranking current and copper at 20 °C; the contact of a switch counts next to nothing, so a worn one
is not seen. The battery's own sag is not part of it. One switch is turned at a time, and a relay
that a coil works stands as usual.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from model.analysis.cranking import Cranked, Turned
from model.survey import Survey
from rules.drop_limits import Limited, copper_for
from rules.ordering import in_order
from rules.profiles import Figure, Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule, Severity, mildest
from rules.wording import named


class Ways(Struct, frozen=True):
    """A starter with all the ways it is cranked."""

    starter: str
    cranked: tuple[Cranked, ...]


def _starters(survey: Survey) -> Iterator[Ways]:
    for item in dict.fromkeys(one.drop.item for one in survey.cranked):
        yield Ways(item, tuple(one for one in survey.cranked if one.drop.item == item))


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
                "cranks with {current_a}{turned}; the limit is {limit_percent}. {wire} causes "
                "{share_v} of it.",
        "much": "{starter} loses {drop_v} ({drop_percent}) between {battery} and back while it "
                "cranks with {current_a}{turned}; more than {limit_percent} is worth a look. "
                "{wire} causes {share_v} of it.",
        "maker": "{starter} loses {drop_v} ({drop_percent}) between {battery} and back while it "
                 "cranks with {current_a}{turned}; the engine's maker allows {allowed_v}. {wire} "
                 "causes {share_v} of it.",
    },
    remedy="Fit thicker or shorter starter cables, both poles, or move the battery.",
    sources=("engine_makers", "common_practice"),
    quiet={"maker": "the engine's maker allows more",
           "no_return": "nothing is connected to its negative: 4.8 names it"},
    figures=("starter_drop_max_percent", "starter_drop_caution_percent"),
    fix="sometimes",
)


def check(ways: Ways, survey: Survey, profile: Profile) -> Answer:
    """Judge one starter by all its ways: the worst is told, one in need after the others."""
    found = [(one, fault) for one in ways.cranked
             if (fault := _fault(one, survey, profile)) is not None]
    if found:
        return min(found, key=lambda pair: (pair[0].in_need, -pair[0].drop.percent))[1]
    missing = dict.fromkeys(field for one in ways.cranked for field in one.drop.missing)
    return Missing(tuple(missing), (ways.starter,)) if missing else None


def _fault(one: Cranked, survey: Survey, profile: Profile) -> Fault | None:
    """Judge one way to crank."""
    drop = one.drop
    most, caution = profile["starter_drop_max_percent"], profile["starter_drop_caution_percent"]
    allowed_v = _allowed_v(drop.item, survey)
    if allowed_v is not None:
        return _told("maker", one, survey, "fault", allowed_v=allowed_v) if (
            drop.drop_v > allowed_v) else None
    if drop.percent > most.value:
        return _told("drop", one, survey, "fault", limit_percent=most)
    if drop.percent > caution.value and not one.in_need:
        return _told("much", one, survey, "caution", limit_percent=caution)
    return None


def _told(
    message: str, one: Cranked, survey: Survey, severity: Severity, **limit: float | Figure
) -> Fault:
    drop, diagram = one.drop, survey.diagram
    return Fault(
        message, (drop.culprit, drop.item, *([one.turned.switch] if one.turned else [])),
        {"drop_v": drop.drop_v, "drop_percent": drop.percent, "current_a": drop.current_a,
         "share_v": drop.shares[drop.culprit], **limit},
        {"starter": named(diagram, [drop.item]), "battery": named(diagram, [drop.source]),
         "wire": named(diagram, [drop.culprit]), "turned": _turned_words(one.turned, survey)},
        severity=mildest(severity, "caution") if one.in_need else severity)


def _turned_words(turned: Turned | None, survey: Survey) -> str:
    """Return how a switch is turned for it, as the sentence goes on."""
    if turned is None:
        return ""
    verb = "is" if turned.position == "on" else "stands at"
    words = f" and {named(survey.diagram, [turned.switch])} {verb} {turned.position}"
    spent = named(survey.diagram, in_order(turned.spent))
    return f"{words}, {spent} giving nothing" if spent else words


def _allowed_v(starter: str, survey: Survey) -> float | None:
    """Return the drop that the engine's maker allows, if it is recorded. [V]"""
    components = survey.diagram.components
    engine = components.get(components[starter].parameters.get("driven_by", ""))
    return None if engine is None else engine.parameters.get("max_starter_drop_v")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the copper that brings the starter within its limit in every way."""
    starter = finding.where[1]
    yield from copper_for(survey, profile, lambda after: [
        Limited(one.drop, _limit_percent(one, after, profile))
        for one in after.cranked if one.drop.item == starter])


def _limit_percent(one: Cranked, survey: Survey, profile: Profile) -> float:
    """Return up to which drop nothing is said of a way to crank. [%]"""
    allowed_v = _allowed_v(one.drop.item, survey)
    if allowed_v is not None:
        return 100 * allowed_v / one.drop.nominal_v
    return profile.value("starter_drop_max_percent" if one.in_need
                         else "starter_drop_caution_percent")
