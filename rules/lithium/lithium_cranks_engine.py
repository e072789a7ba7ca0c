"""What it checks.
Starters that a lithium battery cranks.

Why it matters.
Most lithium batteries open at the current of a starter, and their management opens under a stock
alternator.

Fails when.
The battery is not made for starting, or an alternator charges it and its maker does not allow one.

Passes when.
It is marked for starting, and its maker allows the alternator that charges it.

Limits.
Emergency links do not count: only what cranks as things usually stand.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.charging import charged
from model.analysis.fed_by import starters_fed
from model.analysis.management import lithium_batteries
from model.diagram import Component
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

CRANKING = ("start", "dual")


@dataclass(frozen=True, slots=True)
class Cranked:
    """A starter and a lithium battery that cranks it."""

    starter: str
    battery: Component


def _cranked(survey: Survey) -> Iterator[Cranked]:
    lithium = lithium_batteries(survey.diagram)
    for starter, batteries in starters_fed(survey.graph).items() if lithium else ():
        yield from (Cranked(starter, b) for b in lithium if b.id in batteries)


RULE = Rule(
    slug="lithium_cranks_engine",
    number="6.14",
    title="Lithium as engine start battery with stock alternator",
    topic="lithium",
    severity="fault",
    looks_at="each starter that a lithium battery cranks",
    subjects=_cranked,
    messages={"not_made": "{battery} cranks {starter} and is not made for it."},
    remedy="Crank with a lead start battery.",
    sources=("battery_makers",),
    quiet={"made": "it is marked for starting and its maker allows an alternator",
           "converter": "no alternator charges it"},
)


def check(cranked: Cranked, survey: Survey, profile: Profile) -> Answer:
    """Judge one starter with one battery."""
    battery = cranked.battery
    duty, approved = (battery.parameters.get(n) for n in ("duty", "alternator_approved"))
    where = (battery.id, cranked.starter)
    charged_so = any(
        battery.id in charged(survey.graph, survey.graph.number[f"{part.id}.+"])
        for part in survey.diagram.components.values() if part.kind == "alternator")
    if duty not in (None, *CRANKING) or charged_so and approved is False:
        return Fault("not_made", where, {}, {
            "battery": named(survey.diagram, [battery.id]),
            "starter": named(survey.diagram, [cranked.starter])})
    asked = tuple(f"{battery.id}.{name}" for name, value in (
        ("duty", duty), ("alternator_approved", approved if charged_so else False))
        if value is None)
    return Missing(asked, where) if asked else None
