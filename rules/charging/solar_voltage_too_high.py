"""What it checks.
The open-circuit voltage of each array in the cold against the highest input of its controller.

Why it matters.
Panels give more volts the colder they are. On the first clear frosty morning a controller beyond
its limit fails, often by joining the panels straight to the battery.

Fails when.
Panels in series times their open-circuit voltage, raised for cold, is above the controller's limit.

Passes when.
It stays below; where the panels' temperature coefficient and the coldest place are recorded, by
those.

Limits.
Arrays drawn one after the other in series are not summed: draw them as one array.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.solar_inputs import SolarInput, solar_inputs, string_v
from model.diagram import Component
from model.edits import apply as applied
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="solar_voltage_too_high",
    number="3.16",
    title="Solar open-circuit voltage above the controller's limit",
    topic="charging",
    severity="danger",
    looks_at="each solar controller with its arrays",
    subjects=lambda survey: solar_inputs(survey.graph),
    messages={
        "above": "{array} gives up to {cold_v} when it is cold; {controller} takes {most_v} at "
                 "most.",
    },
    remedy="Fit fewer panels in series, or a controller for more volts.",
    sources=("controller_makers",),
    quiet={
        "computed": "by the panels' temperature coefficient and the coldest place it stays below",
    },
    figures=("solar_cold_ratio", "panel_test_c"),
    fix="sometimes",
)


def check(given: SolarInput, survey: Survey, profile: Profile) -> Answer:
    """Judge one controller by its array of the most volts."""
    most_v = given.controller.parameters.get("max_input_v")
    unknown = given.unknown("panel_voc_v")
    known = [(_cold_v(array, survey, profile), array.id) for array in given.arrays
             if "panel_voc_v" in array.parameters]
    if most_v is None:
        return Missing((f"{given.controller.id}.max_input_v", *unknown), given.where)
    cold_v, array = max(known, default=(0.0, ""))
    if cold_v > most_v:
        return Fault("above", (given.controller.id, array), {"cold_v": cold_v, "most_v": most_v}, {
            "array": named(survey.diagram, [array]),
            "controller": named(survey.diagram, [given.controller.id])})
    return Missing(unknown, given.where) if unknown else None


def _cold_v(array: Component, survey: Survey, profile: Profile) -> float:
    """Return an array's open-circuit volts in the cold: by its coefficient, else as is usual. [V]
    """
    per_k = array.parameters.get("voc_temperature_coefficient_per_k")
    coldest_c = survey.diagram.boat.lowest_temperature_c
    ratio = profile.value("solar_cold_ratio")
    if per_k is not None and coldest_c is not None:
        ratio = 1 + abs(per_k) * (profile.value("panel_test_c") - coldest_c)
    return round(string_v(array, "panel_voc_v") * ratio, 3)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer as many panels in series as the controller takes, where one array is too much."""
    diagram, array = survey.diagram, finding.where[1]
    series = diagram.components[array].parameters.get("series_count", 1)
    fewer = int(finding.figures["most_v"] / (finding.figures["cold_v"] / series))
    if fewer < 1:
        return
    title = f"Put {fewer} panels of {named(diagram, [array])} in series"
    edit = with_fields(diagram, title, array, series_count=fewer)
    after = Survey(applied(diagram, edit))
    if not any(isinstance(check(given, after, profile), Fault)
               for given in solar_inputs(after.graph)
               if given.controller.id == finding.where[0]):
        yield Fix(title, "choice", edit)
