"""What it checks.
The power and the short-circuit current of arrays against what their controller is made for.

Why it matters.
A controller limits its output: what the array could give beyond that is lost. Short-circuit current
above its limit is another matter: some controllers burn.

Fails when.
The arrays' power at the bank's volts is well above the rated output: a caution. Their short-circuit
current is above the highest input current: a danger.

Passes when.
Both stay within the ratings, or the maker allows a larger array and its current is within the
limit.

Limits.
Power counts at the bank's nominal volts.
"""

from __future__ import annotations

from model.analysis.charging import charged
from model.analysis.joinable import post_v
from model.analysis.solar_inputs import Row, SolarInput, array_a, array_w, solar_inputs
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="solar_array_too_large",
    number="3.18",
    title="Solar array current above controller rating",
    topic="charging",
    severity="danger",
    looks_at="each solar controller with its arrays",
    subjects=lambda survey: solar_inputs(survey.graph),
    messages={
        "input": "{arrays} can drive {short_a} into {controller}, which takes {most_a} at most.",
        "output": "{arrays} could give {array_a} at the bank; {controller} gives {rated_a} at "
                  "most.",
    },
    remedy="Fit a second controller, or fewer panels.",
    sources=("controller_makers",),
    quiet={
        "allowed": "the controller's maker allows a larger array, and its current is within the "
                   "limit",
    },
    figures=("solar_oversize_ratio",),
)


def check(given: SolarInput, survey: Survey, profile: Profile) -> Answer:
    """Judge one controller by the current at its input, then by the power."""
    answers = (_of_current(given, survey), _of_power(given, survey, profile))
    missing = [answer for answer in answers if isinstance(answer, Missing)]
    fault = next((answer for answer in answers if isinstance(answer, Fault)), None)
    if fault is not None or not missing:
        return fault
    return Missing(tuple(field for one in missing for field in one.fields), given.where)


def _of_current(given: SolarInput, survey: Survey) -> Answer:
    most_a = given.controller.parameters.get("max_input_a")
    unknown = given.unknown("panel_isc_a", "parallel_count")
    if most_a is None:
        return Missing((f"{given.controller.id}.max_input_a", *unknown), given.where)
    short_a = sum(_row_a(row) for row in given.rows)
    if short_a <= most_a:
        return Missing(unknown, given.where) if unknown else None
    return Fault("input", given.where, {"short_a": short_a, "most_a": most_a},
                 _names(given, survey))


def _row_a(row: Row) -> float:
    """Return the short-circuit current of a row as far as it is stated: of its largest array. [A]
    """
    return max((array_a(array) for array in row if "panel_isc_a" in array.parameters), default=0)


def _of_power(given: SolarInput, survey: Survey, profile: Profile) -> Answer:
    p = given.controller.parameters
    banks = in_order(charged(survey.graph, survey.graph.number[f"{given.controller.id}.out+"]))
    if p.get("oversizing_allowed") is True or not banks:
        return None
    bank_v, rated_a = post_v(survey.graph, banks[0]), p.get("rated_output_a")
    unknown = [*given.unknown("panel_w", "series_count", "parallel_count")]
    unknown += [f"{given.controller.id}.rated_output_a"] if rated_a is None else []
    unknown += [f"{banks[0]}.block_nominal_v"] if bank_v is None else []
    if unknown:
        return Missing(tuple(unknown), given.where)
    assert bank_v is not None
    assert rated_a is not None
    could_a = sum(array_w(array) for array in given.arrays) / bank_v
    if could_a <= profile.value("solar_oversize_ratio") * rated_a:
        return None
    if "oversizing_allowed" not in p:
        return Missing((f"{given.controller.id}.oversizing_allowed",), given.where)
    return Fault("output", given.where, {"array_a": could_a, "rated_a": rated_a},
                 _names(given, survey), severity="caution")


def _names(given: SolarInput, survey: Survey) -> dict[str, str]:
    return {"controller": named(survey.diagram, [given.controller.id]),
            "arrays": named(survey.diagram, [array.id for array in given.arrays])}
