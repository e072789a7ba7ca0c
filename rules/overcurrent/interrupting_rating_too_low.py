"""What it checks.
The interrupting rating of each fuse and breaker against the current that a dead short at its own
terminals would drive through it.

Why it matters.
A device that is asked to break more than it can bursts, or its arc goes on burning in the holder.
The fault it was fitted for is then not interrupted.

Fails when.
The interrupting rating at the volts of the system is below the fault current there. On a lithium
bank a rating that is not recorded is a caution, with the computed current.

Passes when.
The rating covers the fault current, or what the table asks for by the cranking rating of a lead
bank, or a series rating with the device before it is recorded.

Limits.
Where only the class of a fuse is recorded, the table's figures for that class are taken. A bank's
resistance that is not stated is taken from its cranking rating or its chemistry and capacity.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.device_sides import DeviceSide
from model.analysis.interrupting import (
    LITHIUM,
    Interrupts,
    feeding_batteries,
    interrupts,
    needed_a,
    through_a,
    worst_sides,
)
from model.protection_tables import interrupt_steps_a, least_interrupt_a
from model.survey import Survey
from rules.fixing import with_fields
from rules.new_device import fuse_words, most_behind_a, suitable_fuse
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule, Sourced
from rules.wording import named, quantity

RULE = Rule(
    slug="interrupting_rating_too_low",
    number="1.7",
    title="Fuse cannot break the fault current",
    topic="overcurrent",
    severity="danger",
    looks_at="each fuse and breaker that a battery feeds",
    subjects=worst_sides,
    messages={
        "too_low": "A short behind {device} drives {fault_a} through it; it breaks at most "
                   "{interrupt_a}{assumed}.",
        "unknown": "What {device} can break is not recorded; a short behind it drives {fault_a} "
                   "through it, from a lithium bank{assumed}.",
    },
    remedy="Fit a fuse with a high interrupting rating at the bank, or one fuse on each battery.",
    sources=("abyc_e11_interrupting", "abyc_e13", "common_practice"),
    quiet={
        "lead_table": "a lead bank's device has the rating that the table asks for by the bank's "
                      "cranking current and volts",
        "large_bank": "the main device of a large bank has its maker's short-circuit figure, or "
                      "20 kA where that is above 10 kA",
        "series_rating": "a device before it breaks the current, and the maker's series rating "
                         "with it is recorded",
    },
    fix="sometimes",
)


def check(side: DeviceSide, survey: Survey, profile: Profile) -> Answer:
    """Judge one device by the larger fault behind it."""
    volts = survey.potentials[side.node].nominal_v
    fault_a = round(through_a(survey, side), 1)
    if volts is None or fault_a < 1:
        return None
    own = interrupts(side.edge.device, volts)
    batteries = feeding_batteries(survey, side)
    enough_a = needed_a(survey, side, batteries, volts)
    if own is not None and enough_a is not None and own.low.value >= enough_a:
        return None
    if _in_series(side, fault_a, survey):
        return None
    return _judged(side, fault_a, own, batteries, survey)


def _judged(
    side: DeviceSide, fault_a: float, own: Interrupts | None, batteries: tuple[str, ...],
    survey: Survey,
) -> Answer:
    where = (side.item, *batteries)
    names = {"device": named(survey.diagram, [side.item]),
             "assumed": _assumed(batteries, survey)}
    asked = Missing((f"{side.item}.interrupt_a",), where)
    if own is not None and fault_a <= own.low.value:
        return None
    unknown = survey.faults.unstated(batteries, side.edge.index, side.node)
    if own is not None and fault_a > own.high.value:
        if unknown:
            return Missing(unknown, where)
        breaks: float | Sourced = own.high if own.high.source else own.high.value
        return Fault("too_low", where, {"fault_a": fault_a, "interrupt_a": breaks}, names,
                     severity=None if own.high.confirmed else "caution")
    if own is None and fault_a <= least_interrupt_a():
        return None
    lithium = any(survey.diagram.components[b].parameters.get("chemistry") in LITHIUM
                  for b in batteries)
    if own is None and lithium:
        return Fault("unknown", where, {"fault_a": fault_a}, names, severity="caution")
    return asked


def _in_series(side: DeviceSide, fault_a: float, survey: Survey) -> bool:
    """Say whether a device before it breaks the current and a series rating is recorded."""
    before = survey.diagram.components.get(side.edge.device.get("series_rating_with", ""))
    return before is not None and before.parameters.get("interrupt_a", 0) >= fault_a


def _assumed(batteries: tuple[str, ...], survey: Survey) -> str:
    guessed = survey.faults.guessed(batteries)
    if not guessed:
        return ""
    return f" (the resistance of {named(survey.diagram, guessed)} is assumed)"


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a fuse of the class that breaks the fault, or a breaker with that rating."""
    side = next(s for s in worst_sides(survey) if s.item == finding.where[0])
    words = named(survey.diagram, [side.item])
    fault_a, rated_a = finding.figures["fault_a"], side.rated_a
    part = survey.diagram.components.get(side.item)
    if part is None or part.kind != "fuse":
        steps = [a for a in interrupt_steps_a() if a >= fault_a]
        if steps:
            amperes = quantity("interrupt_a", steps[0], survey.diagram)
            title = f"Fit a device that breaks {amperes} as {words}"
            yield Fix(title, "choice", with_fields(
                survey.diagram, title, side.item, interrupt_a=steps[0]))
        return
    fuse = None if rated_a is None else suitable_fuse(
        survey, side.node, rated_a, max(rated_a, most_behind_a(survey, side.item, profile)),
        profile, fault_a)
    if fuse is not None:
        title = f"Fit {fuse_words(fuse)} as {words}"
        yield Fix(title, "mechanical", with_fields(survey.diagram, title, side.item, **fuse))
