"""What it checks.
Which alternators without any limit of their own charge a lithium battery directly.

Why it matters.
A lead battery slows its alternator down as it fills. Lithium takes all there is, for hours, and a
stock alternator at full output cooks itself within one.

Fails when.
An alternator with its regulator inside, without temperature sensor and without a limit of current,
reaches a lithium battery over conductors, switches or relays alone.

Passes when.
A converter is between, or the alternator is regulated from outside or limited.

Limits.
A long thin lead is not taken for a limit. A large bank makes it a danger; where capacity or rating
is not recorded, a small one is assumed. Whether a battery may crank at all belongs to 6.14.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.charging import charged, regulator_of
from model.analysis.management import lithium_batteries
from model.diagram import Component
from model.survey import Survey
from rules.lead_first import led_to_lead
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Direct:
    """An alternator with the lithium batteries that it charges with no converter between."""

    alternator: Component
    batteries: tuple[Component, ...]


def _direct(survey: Survey) -> Iterator[Direct]:
    graph = survey.graph
    for part in survey.diagram.components.values():
        if part.kind == "alternator":
            reached = charged(graph, graph.number[f"{part.id}.+"])
            found = tuple(battery for battery in lithium_batteries(survey.diagram)
                          if battery.id in reached)
            if found:
                yield Direct(part, found)


RULE = Rule(
    slug="stock_alternator_into_lithium",
    number="6.3",
    title="Stock alternator straight into lithium",
    topic="lithium",
    severity="fault",
    looks_at="each alternator that charges lithium directly",
    subjects=_direct,
    messages={"stock": "{alternator} charges {batteries} directly, with nothing that limits its "
                       "current or watches its temperature."},
    remedy="Put a converter between, or regulate it from outside with limits of temperature and "
           "current.",
    sources=("lithium_installers", "alternator_articles"),
    quiet={"limited": "it has a temperature sensor, a limit of current or a regulator outside",
           "approved": "the battery's maker allows an alternator"},
    figures=("lithium_ah_per_alternator_a",),
    fix="sometimes",
)


def check(direct: Direct, survey: Survey, profile: Profile) -> Answer:
    """Judge one alternator."""
    alternator, batteries = direct.alternator, direct.batteries
    facts = alternator.parameters
    limited = facts.get("temperature_sensor") is True or "output_cap_a" in facts
    outside = facts.get("regulation") == "external" or regulator_of(survey.diagram, alternator)
    if limited or outside or all(
            b.parameters.get("alternator_approved") is True for b in batteries):
        return None
    where = (alternator.id, *(battery.id for battery in batteries))
    asked = tuple(f"{alternator.id}.{name}" for name in ("regulation", "temperature_sensor")
                  if name not in facts)
    if asked:
        return Missing(asked, where)
    ratio = profile.value("lithium_ah_per_alternator_a")
    bank_ah = sum(battery.parameters.get("capacity_ah", 0.0) for battery in batteries)
    heavy = "rated_a" in facts and bank_ah > ratio * facts["rated_a"]
    unsized = [f"{part.id}.{name}" for part, name in (
        (alternator, "rated_a"), *((battery, "capacity_ah") for battery in batteries))
        if name not in part.parameters]
    return Fault("stock", where, {}, {
        "alternator": named(survey.diagram, [alternator.id]),
        "batteries": named(survey.diagram, where[1:])}, severity="danger" if heavy else "fault",
        assumed=() if heavy else tuple(unsized))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to lead it to a lead battery, where something charges the lithium from there."""
    alternator, *batteries = finding.where

    def settles(after: Survey) -> bool:
        return not any(direct.alternator.id == alternator for direct in _direct(after))

    yield from led_to_lead(survey, profile, alternator, batteries, settles)
