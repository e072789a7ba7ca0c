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
Arrays one after the other are summed where the minus of one is joined to the plus of the next.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.solar_inputs import Row, SolarInput, row_v, solar_inputs
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
        "above": "From {array} come up to {cold_v} when it is cold; {controller} takes {most_v} at "
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
    unknown = given.unknown("panel_voc_v", "series_count")
    if most_v is None:
        return Missing((f"{given.controller.id}.max_input_v", *unknown), given.where)
    cold_v, row = max((_cold_v(row, survey, profile), tuple(array.id for array in row))
                       for row in given.rows)
    if cold_v > most_v:
        return Fault("above", (given.controller.id, *row), {"cold_v": cold_v, "most_v": most_v}, {
            "array": named(survey.diagram, row),
            "controller": named(survey.diagram, [given.controller.id])})
    return Missing(unknown, given.where) if unknown else None


def _cold_v(row: Row, survey: Survey, profile: Profile) -> float:
    """Return the open-circuit volts of a row in the cold, as far as they are stated. [V]"""
    return round(sum(row_v((array,), "panel_voc_v") * _cold_ratio(array, survey, profile)
                     for array in row if "panel_voc_v" in array.parameters), 3)


def _cold_ratio(array: Component, survey: Survey, profile: Profile) -> float:
    """Return what the cold raises an array's volts by: its coefficient, else as is usual."""
    per_k = array.parameters.get("voc_temperature_coefficient_per_k")
    coldest_c = survey.diagram.boat.lowest_temperature_c
    if per_k is not None and coldest_c is not None:
        return float(1 + abs(per_k) * (profile.value("panel_test_c") - coldest_c))
    return profile.value("solar_cold_ratio")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer as many panels in series as the controller takes, where one array is too much."""
    diagram, (_, array, *others) = survey.diagram, finding.where
    series = diagram.components[array].parameters.get("series_count", 1)
    fewer = int(finding.figures["most_v"] / (finding.figures["cold_v"] / series))
    if fewer < 1 or others:
        return
    title = f"Put {fewer} panels of {named(diagram, [array])} in series"
    edit = with_fields(diagram, title, array, series_count=fewer)
    after = Survey(applied(diagram, edit))
    if not any(isinstance(check(given, after, profile), Fault)
               for given in solar_inputs(after.graph)
               if given.controller.id == finding.where[0]):
        yield Fix(title, "choice", edit)
