"""What it checks.
What is left on each running alternator when the management of a lithium battery disconnects it.

Why it matters.
An alternator that loses its battery jumps to many times its voltage. It burns out, and takes radio
and plotter with it.

Fails when.
In some usual state, or with a selector at one bank, the alternator charges the lithium bank and
nothing else: with the management open no battery is left.

Passes when.
A lead battery stays joined, or the management stops the alternator first.

Limits.
All batteries of a bank are taken to open together, and one bank at a time. A battery without
management does not open. Switches that a hand turns belong to 2.6.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from model.analysis.charging import charged_in, regulator_of, selected
from model.analysis.lithium_banks import LithiumBank, lithium_banks
from model.analysis.management import driven, is_stopped, opened, unit_of
from model.analysis.usual_states import usual_states
from model.diagram import Component
from model.survey import Survey
from rules.fixing import with_fields
from rules.lead_first import led_to_lead
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Charged:
    """A lithium bank and an alternator that may charge it."""

    bank: LithiumBank
    alternator: Component

    @property
    def opening(self) -> tuple[Component, ...]:
        """Return the batteries that a management can disconnect."""
        return tuple(battery for battery in self.bank.batteries
                     if battery.parameters.get("management") != "none")


def _charged(survey: Survey) -> Iterator[Charged]:
    for bank in lithium_banks(survey.graph):
        yield from (Charged(bank, part) for part in survey.diagram.components.values()
                    if part.kind == "alternator")


RULE = Rule(
    slug="management_unloads_alternator",
    number="6.2",
    title="Management disconnect can unload a running alternator",
    topic="lithium",
    severity="danger",
    looks_at="each lithium bank with each alternator",
    subjects=_charged,
    messages={"unloads": "When the management disconnects {batteries}{when}, {alternator} runs "
                         "without any battery."},
    remedy="Let the alternator charge a lead start battery and a converter the lithium, or let the "
           "management stop the regulator first.",
    sources=("load_dump_articles", "abyc_e13"),
    quiet={"stops": "the management stops the alternator or its regulator before it opens",
           "lead": "a lead battery stays joined to the alternator"},
    fix="sometimes",
)


def check(charged: Charged, survey: Survey, profile: Profile) -> Answer:
    """Judge one alternator with one bank."""
    alternator, opening = charged.alternator, charged.opening
    positions = _left_alone_in(charged, survey)
    if positions is None or all(is_stopped(alternator, battery, unit_of(survey.diagram, battery))
                                for battery in opening):
        return None
    where = (alternator.id, *(battery.id for battery in opening))
    unsaid = tuple(f"{b.id}.management" for b in opening if "management" not in b.parameters)
    if unsaid:
        return Missing(unsaid, where)
    turned = " and ".join(f"{named(survey.diagram, [switch])} at {position}"
                          for switch, position in positions.items())
    return Fault("unloads", where, {}, {
        "batteries": named(survey.diagram, where[1:]),
        "alternator": named(survey.diagram, [alternator.id]),
        "when": f" with {turned}" if turned else ""},
        severity="caution" if alternator.parameters.get("surge_protected") is True else "danger")


def _left_alone_in(charged: Charged, survey: Survey) -> Mapping[str, str] | None:
    """Return the selector that has to be turned, with its position, for no battery to be left
    when the management has opened; nothing when none has to, None when one is always left.
    """
    graph, diagram = survey.graph, survey.diagram
    node = graph.number[f"{charged.alternator.id}.+"]
    opening = {battery.id for battery in charged.opening}
    open_positions: dict[str, str] = {}
    for battery in charged.opening:
        unit = unit_of(diagram, battery)
        open_positions |= {} if unit is None else opened(graph, driven(diagram, unit))
    for state in usual_states(diagram):
        for positions in selected(graph, state.positions):
            if opening & charged_in(graph, node, positions) - state.absent:
                left = charged_in(graph, node, {**positions, **open_positions})
                if not left - opening - state.absent:
                    return {switch: position for switch, position in positions.items()
                            if state.positions.get(switch) != position}
    return None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to lead the alternator to a lead battery, and to stop its regulator by the one unit
    where that has an input for it.
    """
    diagram, (item, *batteries) = survey.diagram, finding.where

    def settles(after: Survey) -> bool:
        return not any(isinstance(check(one, after, profile), Fault)
                       for one in _charged(after) if one.alternator.id == item)

    yield from led_to_lead(survey, profile, item, batteries, settles)
    regulator = regulator_of(diagram, diagram.components[item])
    units = [unit_of(diagram, diagram.components[battery]) for battery in batteries]
    unit = units[0]
    if regulator is not None and regulator.parameters.get("stop_input") is True and (
            unit is not None and units.count(unit) == len(units)):
        title = (f"Wire the stop input of {named(diagram, [regulator.id])} to "
                 f"{named(diagram, [unit.id])}, which stops it before it opens")
        stops = (*unit.parameters.get("stops", ()), regulator.id)
        yield Fix(title, "choice", with_fields(diagram, title, unit.id, stops=stops))
