"""What it checks.
Each alternator with the DC-DC chargers that take from the bank it charges, and what runs there.

Why it matters.
A converter takes what it is made for, whatever the alternator can give. A small alternator runs at
its limit for hours, overheats, and the start bank is drained while the engine runs.

Fails when.
Converters and running loads together ask for more than the alternator gives hot. More than it gives
at idle is a caution.

Passes when.
It can give as much, or its external regulator limits it by temperature; where that is not drawn,
the alternator's own record says whether a sensor is there.

Limits.
Each alternator is taken alone, as when one engine runs. Loads are those that run for long, as
solved; volts at both ends of a converter are the nominal ones.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.charging import charged, regulator_of
from model.analysis.design_current import CONTINUOUS
from model.analysis.fed_by import fed_by, fed_loads
from model.diagram import Component
from model.survey import Survey
from rules.charging_output import output_caps_a
from rules.drawn import charger_input_a
from rules.fixing import with_fields
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named, quantity

RULE = Rule(
    slug="converters_overload_alternator",
    number="3.12",
    title="DC-DC chargers ask for more than the alternator can give",
    topic="charging",
    severity="fault",
    looks_at="each alternator whose bank feeds DC-DC chargers",
    subjects=lambda survey: [c for c in survey.diagram.components.values()
                             if c.kind == "alternator"],
    messages={
        "hot": "{converters} and what runs ask for {asked_a}; {alternator} gives {given_a} when "
               "it is hot.",
        "idle": "{converters} and what runs ask for {asked_a}; {alternator} gives {given_a} at "
                "idle.",
    },
    remedy="Fit smaller or fewer converters, limit their current, or fit a larger alternator with "
           "a regulator.",
    sources=("alternator_articles",),
    quiet={
        "regulated": "an external regulator limits the alternator by its temperature",
    },
    figures=("alternator_hot_ratio", "alternator_idle_ratio", "converter_efficiency_ratio"),
    fix="sometimes",
)


def check(alternator: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one alternator by what is asked of it."""
    converters = _converters(alternator, survey)
    regulating = regulator_of(survey.diagram, alternator) or alternator
    senses = regulating.parameters.get("temperature_sensor")
    if alternator.parameters.get("regulation") == "internal" and regulating is alternator:
        senses = False
    if not converters or senses is True:
        return None
    asked = {part.id: charger_input_a(part, profile) for part in converters}
    unknown = [field for value in asked.values() if isinstance(value, tuple) for field in value]
    where = (alternator.id, *in_order(asked))
    rated_a = alternator.parameters.get("rated_a")
    if rated_a is None:
        return Missing((*unknown, f"{alternator.id}.rated_a"), where)
    if unknown:
        return Missing(tuple(unknown), where)
    asked_a = sum(a for a in asked.values() if isinstance(a, float)) + _loads_a(alternator, survey)
    for message, field in (("hot", "hot_fraction"), ("idle", "idle_fraction")):
        share = alternator.parameters.get(field, profile.value(f"alternator_{message}_ratio"))
        given_a = min([round(share * rated_a, 3), *output_caps_a(survey.diagram, alternator)])
        if asked_a > given_a:
            if senses is None:
                return Missing((f"{regulating.id}.temperature_sensor",), where)
            return Fault(message, where, {"asked_a": asked_a, "given_a": given_a}, {
                "alternator": named(survey.diagram, [alternator.id]),
                "converters": named(survey.diagram, in_order(asked))},
                severity="fault" if message == "hot" else "caution")
    return None


def _converters(alternator: Component, survey: Survey) -> list[Component]:
    """Return the DC-DC chargers that take from a battery the alternator charges."""
    graph = survey.graph
    batteries = charged(graph, graph.number[f"{alternator.id}.+"])
    return [c for c in survey.diagram.components.values() if c.kind == "dc_dc_charger"
            and batteries & fed_by(graph, [graph.number[f"{c.id}.in+"]])]


def _loads_a(alternator: Component, survey: Survey) -> float:
    """Return what the loads of the alternator's banks draw for long, as solved. [A]"""
    graph = survey.graph
    batteries = charged(graph, graph.number[f"{alternator.id}.+"])
    parts = survey.duty.points[CONTINUOUS].parts
    return sum(round(parts[item].current_a, 1)
               for item in fed_loads(graph, batteries, {}) if item in parts)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to limit a converter's current to what is left of the alternator at idle."""
    diagram, (item, *converters) = survey.diagram, finding.where
    alternator = diagram.components[item]
    share = alternator.parameters.get("idle_fraction", profile.value("alternator_idle_ratio"))
    given_a = min([share * alternator.parameters["rated_a"], *output_caps_a(diagram, alternator)])
    left_a = float(int(given_a - _loads_a(alternator, survey)))
    if len(converters) == 1 and left_a > 0:
        title = (f"Limit {named(diagram, converters)} to {quantity('a', left_a, diagram)} at its "
                 "input")
        yield Fix(title, "choice", with_fields(
            diagram, title, converters[0], current_limit_a=left_a))
