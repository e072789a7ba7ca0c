"""What it checks.
Each diode splitter that an alternator feeds: whether its loss is made good.

Why it matters.
A silicon diode takes 0.6 to 1.0 V. An alternator that senses its own output then never brings the
batteries behind the diodes to more than four fifths.

Fails when.
The diodes take more than next to nothing, and the alternator senses at itself, or its regulator
where no diode is between.

Passes when.
It senses at a bank behind the splitter, or the splitter loses next to nothing.

Limits.
Chargers are made for splitters or have outputs of their own, and are not looked at. Where a sense
wire ends is 3.7's matter.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.charging import regulator_of
from model.analysis.reach import always_closed, reach
from model.analysis.regulator_sense import sense_node, sensed_point, supply_node
from model.diagram import Component
from model.graph import TerminalGraph
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="diode_splitter_uncompensated",
    number="3.6",
    title="Diode splitter without compensation",
    topic="charging",
    severity="fault",
    looks_at="each diode splitter that an alternator feeds",
    subjects=lambda survey: [c for c in survey.diagram.components.values()
                             if c.kind == "diode_isolator"],
    messages={
        "loses": "{alternator} senses at itself, and {splitter} takes about {drop_v} before the "
                 "batteries.",
    },
    remedy="Sense at the house bank, or fit a splitter of low loss or a relay.",
    sources=("splitter_makers", "common_practice"),
    quiet={
        "sensed": "the regulator senses at a battery behind the splitter",
        "low_loss": "the splitter is of transistors, or loses next to nothing",
        "charger": "a charger feeds it, not an alternator",
    },
    figures=("splitter_loss_max_v", "silicon_loss_v"),
    fix="sometimes",
)


def check(splitter: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one splitter by what it loses and where its alternators sense."""
    graph = survey.graph
    fed = reach(graph, [graph.number[f"{splitter.id}.in"]],
                lambda edge, node: edge.role != "diode" and always_closed(edge, node))
    alternators = [c for c in survey.diagram.components.values()
                   if c.kind == "alternator" and graph.number[f"{c.id}.+"] in fed]
    at_itself = [c.id for c in alternators if _senses_itself(c, survey) is True]
    unsaid = [c.id for c in alternators if _senses_itself(c, survey) is None]
    if not at_itself and not unsaid:
        return None
    drop_v = _drop_v(splitter, profile)
    if drop_v is not None and drop_v <= profile.value("splitter_loss_max_v"):
        return None
    if drop_v is None or not at_itself:
        fields = [_sense_field(item, survey) for item in unsaid] if not at_itself else []
        kind = "drop_v" if "type" in splitter.parameters else "type"
        return Missing((*([f"{splitter.id}.{kind}"] if drop_v is None else []), *fields),
                       (splitter.id, *at_itself, *unsaid))
    return Fault("loses", (splitter.id, *at_itself), {"drop_v": drop_v}, {
        "splitter": named(survey.diagram, [splitter.id]),
        "alternator": named(survey.diagram, at_itself)})


def _drop_v(splitter: Component, profile: Profile) -> float | None:
    """Return what the splitter takes, as stated or as usual for silicon; None unknown. [V]"""
    stated = splitter.parameters.get("drop_v")
    kind = splitter.parameters.get("type", "")
    if stated is not None:
        return float(stated)
    return {"silicon": profile.value("silicon_loss_v"), "transistor": 0.0}.get(kind)


def _senses_itself(alternator: Component, survey: Survey) -> bool | None:
    """Say whether the machine's own output is what is regulated; None when that is not stated."""
    regulator = regulator_of(survey.diagram, alternator)
    if regulator is not None:
        return _regulated_at_itself(alternator, regulator, survey.graph)
    sense = alternator.parameters.get("sense")
    return None if sense is None else sense == "machine"


def _regulated_at_itself(
    alternator: Component, regulator: Component, graph: TerminalGraph
) -> bool | None:
    """Say whether a regulator senses where no diode parts it from its alternator; None when it may
    be by its supply.
    """
    sensing = sense_node(graph, regulator.id)
    if sensing is None:
        return None if supply_node(graph, regulator.id) is not None else True
    return graph.number[f"{alternator.id}.+"] in sensed_point(graph, sensing, {})


def _sense_field(alternator: str, survey: Survey) -> str:
    """Return what would say where an alternator is sensed."""
    regulator = regulator_of(survey.diagram, survey.diagram.components[alternator])
    return f"{alternator if regulator is None else regulator.id}.sense"


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a splitter of low loss."""
    splitter = finding.where[0]
    title = f"Fit a transistor splitter as {named(survey.diagram, [splitter])}"
    yield Fix(title, "choice", with_fields(
        survey.diagram, title, splitter, type="transistor", drop_v=None, drop_at_a=None))
