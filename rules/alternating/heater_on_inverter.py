"""What it checks.
What hangs on the output of each inverter: heaters, and chargers of other banks.

Why it matters.
Away from the quay the immersion heater empties the bank within two hours, and a charger turns one
bank into heat to fill another.

Fails when.
A heater above the figure, or a charger of another bank, is fed by the inverter.

Passes when.
They hang on the shore and generator bus.

Limits.
A charger of the inverter's own bank goes round in a loop, and belongs to 3.15.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from model.analysis.alternating import (
    AcSource,
    ac_sources,
    consumers,
    fed_from,
    inlets,
    terminal,
)
from model.analysis.charge_paths import directed_reach
from model.analysis.fed_by import fed_by
from model.diagram import Component
from model.kinds.conversion import output_ids
from model.survey import Survey
from rules.fixing import moved, together, with_fields
from rules.free_ways import free_ways
from rules.profiles import Profile
from rules.rewiring import other_end
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.tying import leads_of
from rules.way_labels import label_of
from rules.wording import named

INVERTERS = ("inverter", "inverter_charger")


@dataclass(frozen=True, slots=True)
class OnInverter:
    """A heater or charger that an inverter feeds."""

    inverter: AcSource
    part: Component


def _on_inverters(survey: Survey) -> Iterator[OnInverter]:
    graph = survey.graph
    for source in ac_sources(graph):
        if source.part.kind in INVERTERS:
            fed = fed_from(graph, source.live)
            yield from (OnInverter(source, part) for part in consumers(graph)
                        if terminal(graph, part, "L") in fed)


RULE = Rule(
    slug="heater_on_inverter",
    number="9.7",
    title="Charger or water heater on the inverter's output",
    topic="alternating",
    severity="fault",
    looks_at="each heater and charger that an inverter feeds",
    subjects=_on_inverters,
    messages={
        "heater": "{inverter} feeds {part}, a heater of {heats_w}.",
        "charger": "{inverter} feeds {part}, which charges another bank.",
    },
    remedy="Move it to the bus of shore and generating set.",
    sources=("installers",),
    quiet={"small": "the heater is below the figure", "own": "it charges the inverter's own bank: "
           "3.15 judges it",
           "locked": "the charger is held off while the inverter runs"},
    figures=("heater_on_inverter_w",),
    fix="sometimes",
)


def check(on: OnInverter, survey: Survey, profile: Profile) -> Answer:
    """Judge one part."""
    part, where = on.part, (on.part.id, on.inverter.part.id)
    names = {"inverter": named(survey.diagram, [on.inverter.part.id]),
             "part": named(survey.diagram, [part.id])}
    if part.kind == "shore_charger":
        locked = part.parameters.get("held_off_by_inverter") is True
        return None if locked or not _charges_another(on, survey) else Fault(
            "charger", where, {}, names)
    heater, heats_w = (part.parameters.get(name) for name in ("heater", "rated_w"))
    small = heats_w is not None and heats_w <= profile.value("heater_on_inverter_w")
    if part.kind != "ac_load" or heater is False or small:
        return None
    if heater is None or heats_w is None:
        return Missing(tuple(f"{part.id}.{name}" for name, value in (
            ("heater", heater), ("rated_w", heats_w)) if value is None), where)
    return Fault("heater", where, {"heats_w": heats_w}, names)


def _charges_another(on: OnInverter, survey: Survey) -> bool:
    """Say whether a charger charges batteries of which none feeds the inverter."""
    graph, part = survey.graph, on.part
    outs = [graph.number[f"{part.id}.{name}+"] for name in output_ids(part.parameters)]
    reached = directed_reach(graph, outs)
    charged = {p.id for p in survey.diagram.components.values()
               if p.kind == "battery_bank" and graph.number[f"{p.id}.+"] in reached}
    feeding = fed_by(graph, [graph.number[f"{on.inverter.part.id}.+"]])
    return bool(charged) and not charged & feeding


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a free way of a panel that shore feeds and this inverter does not, of a rating that
    carries it and that the cable bears.
    """
    diagram, (item, inverter) = survey.diagram, finding.where
    cables = leads_of(survey, item, "L")
    if len(cables) != 1:
        return
    (cable,) = cables
    most_a = survey.ampacity_range(cable, profile.ampacity_table).low_a or 0.0
    own = next(f"{end.component}.{end.terminal}" for end in cable.ends() if end.component == item)
    for panel, volts in _shore_panels(survey, inverter):
        least_a = finding.figures.get("heats_w", 0.0) / volts
        for way, facts in free_ways(survey, panel):
            if least_a <= facts["rated_a"] <= most_a:
                title = f"Lead {named(diagram, [item])} to {named(diagram, [way])}, on shore power"
                yield Fix(title, "choice", together(
                    diagram, title,
                    partial(moved, title=title, conductor=cable.id, from_=other_end(cable, own),
                            to=way),
                    partial(with_fields, title=title, item=way, spare=False,
                            label=label_of(diagram, [item]))))
                return


def _shore_panels(survey: Survey, inverter: str) -> Iterator[tuple[Component, float]]:
    """Yield the AC panels that an inlet feeds and an inverter does not, with the inlet's volts."""
    graph = survey.graph
    source = next(one for one in ac_sources(graph) if one.part.id == inverter)
    for inlet in inlets(graph):
        volts = inlet.part.parameters.get("nominal_v")
        beyond = fed_from(graph, inlet.live) - fed_from(graph, source.live)
        yield from ((part, volts) for part in survey.diagram.components.values() if volts and (
            part.kind == "ac_panel" and graph.number[f"{part.id}.inL"] in beyond))
