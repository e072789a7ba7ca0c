"""What it checks.
What is left on each running alternator when the management of a lithium battery disconnects it.

Why it matters.
An alternator that loses its battery jumps to many times its voltage. It burns out, and takes radio
and plotter with it.

Fails when.
In some usual state the alternator charges the lithium battery and nothing else: with the
management open no battery is left.

Passes when.
A lead battery stays joined, or the management stops the alternator first.

Limits.
One battery's management opens at a time. Switches that a hand turns belong to 2.6.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.charging import charged_in
from model.analysis.management import (
    driven,
    is_stopped,
    lithium_batteries,
    opened,
    unit_of,
)
from model.analysis.usual_states import usual_states
from model.diagram import Component
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Charged:
    """A lithium battery, an alternator that may charge it, and the unit that may open."""

    battery: Component
    alternator: Component
    unit: Component | None


def _charged(survey: Survey) -> Iterator[Charged]:
    diagram = survey.diagram
    for battery in lithium_batteries(diagram):
        yield from (Charged(battery, part, unit_of(diagram, battery))
                    for part in diagram.components.values() if part.kind == "alternator")


RULE = Rule(
    slug="management_unloads_alternator",
    number="6.2",
    title="Management disconnect can unload a running alternator",
    topic="lithium",
    severity="danger",
    looks_at="each lithium battery with each alternator",
    subjects=_charged,
    messages={"unloads": "When the management disconnects {battery}, {alternator} runs without any "
                         "battery."},
    remedy="Let the alternator charge a lead start battery and a converter the lithium, or let the "
           "management stop the regulator first.",
    sources=("load_dump_articles", "abyc_e13"),
    quiet={"stops": "the management stops the alternator or its regulator before it opens",
           "lead": "a lead battery stays joined to the alternator"},
)


def check(charged: Charged, survey: Survey, profile: Profile) -> Answer:
    """Judge one alternator with one battery."""
    battery, alternator = charged.battery, charged.alternator
    if not _is_left_alone(charged, survey) or is_stopped(alternator, battery, charged.unit):
        return None
    if "management" not in battery.parameters:
        return Missing((f"{battery.id}.management",), (alternator.id, battery.id))
    return Fault("unloads", (alternator.id, battery.id), {}, {
        "battery": named(survey.diagram, [battery.id]),
        "alternator": named(survey.diagram, [alternator.id])},
        severity="caution" if alternator.parameters.get("surge_protected") is True else "danger")


def _is_left_alone(charged: Charged, survey: Survey) -> bool:
    """Say whether in some usual state no battery is left when the management has opened."""
    graph = survey.graph
    node = graph.number[f"{charged.alternator.id}.+"]
    open_positions = {} if charged.unit is None else opened(
        graph, driven(survey.diagram, charged.unit))
    for state in usual_states(survey.diagram):
        if charged.battery.id in charged_in(graph, node, state.positions):
            left = charged_in(graph, node, {**state.positions, **open_positions})
            if not left - {charged.battery.id} - state.absent:
                return True
    return False
