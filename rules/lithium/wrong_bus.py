"""What it checks.
Where a management unit works one contactor for charging and one for the loads: on which side each
charger and each load is.

Why it matters.
A charger on the load side goes on charging a battery that is full. A load on the charge side drains
one that is empty, past the point of no return.

Fails when.
A charging source stays joined to the battery with the charge contactor open, or a load with the
load contactor open.

Passes when.
Each is behind its own contactor.

Limits.
What is behind both, or before both, is not named: the fuse of the unit itself for example.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.banks import loads_at
from model.analysis.charging import charged_in, outlets
from model.analysis.management import Roles, driven, lithium_batteries, opened, unit_of
from model.analysis.reach import reach, stiff_passes
from model.diagram import Component
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class TwoBuses:
    """A battery whose unit works a contactor for charging and another for the loads."""

    battery: Component
    contactors: Roles


def _two_buses(survey: Survey) -> Iterator[TwoBuses]:
    for battery in lithium_batteries(survey.diagram):
        unit = unit_of(survey.diagram, battery)
        contactors = {} if unit is None else driven(survey.diagram, unit)
        if {"charge", "load"} <= set(contactors.values()):
            yield TwoBuses(battery, contactors)


RULE = Rule(
    slug="wrong_bus",
    number="6.10",
    title="Source on the load bus, load on the charge bus",
    topic="lithium",
    severity="danger",
    looks_at="each battery with a charge and a load contactor",
    subjects=_two_buses,
    messages={
        "source": "{parts} can charge {battery} while the charge contactor is open.",
        "load": "{parts} can drain {battery} while the load contactor is open.",
    },
    remedy="Move it to the other bus.",
    sources=("common_practice",),
    quiet={"single": "the battery has a single contactor for both"},
)


def check(two: TwoBuses, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery: chargers first, then loads."""
    graph, battery = survey.graph, two.battery.id
    no_charge, no_load = (opened(graph, two.contactors, role) for role in ("charge", "load"))
    sources = in_order({
        outlet.source for outlet in outlets(graph)
        if battery in charged_in(graph, outlet.node, no_charge)
        and battery not in charged_in(graph, outlet.node, no_load)})
    loads = in_order(_loads(survey, battery, no_load) - _loads(survey, battery, no_charge))
    for message, found in (("source", sources), ("load", loads)):
        if found:
            return Fault(message, (*found, battery), {}, {
                "parts": named(survey.diagram, found),
                "battery": named(survey.diagram, [battery])})
    return None


def _loads(survey: Survey, battery: str, positions: dict[str, str]) -> set[str]:
    graph = survey.graph
    start = [graph.number[f"{battery}.+"]]
    return set(loads_at(graph, reach(graph, start, stiff_passes(graph, positions))))
