"""What it checks.
The volts each array still gives when it is hot, against what its controller needs to charge.

Why it matters.
Panels lose volts in the heat. A string that is short of volts charges on cool mornings and stops at
noon, and nobody sees why the bank is never full.

Fails when.
Hot, the string gives less than the absorption voltage with a little to spare; or a maximum-power
controller does not get the volts above the battery that it needs to start.

Passes when.
It gives more. A plain controller needs the battery's own volts with a little to spare.

Limits.
Shade is not counted. The lead's loss belongs to 3.19.
"""

from __future__ import annotations

from model.analysis.charging import charged
from model.analysis.charging_profile import charging_profile, rest_at_post_v
from model.analysis.solar_inputs import SolarInput, row_v, solar_inputs
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="solar_voltage_too_low",
    number="3.17",
    title="Solar voltage too low to charge",
    topic="charging",
    severity="fault",
    looks_at="each solar controller with its arrays",
    subjects=lambda survey: solar_inputs(survey.graph),
    messages={
        "charge": "From {array} come about {hot_v} when it is hot; {controller} needs {needed_v} "
                  "to fill {bank}.",
        "start": "From {array} come about {hot_v} unloaded when it is hot; {controller} needs "
                 "{needed_v} to start on {bank}.",
        "plain": "From {array} come about {hot_v} when it is hot; {controller} needs {needed_v} "
                 "to charge {bank} at all.",
    },
    remedy="Fit more panels in series.",
    sources=("controller_makers",),
    quiet={
        "plain": "the controller is of the plain kind, which needs little more than the battery's "
                 "own volts",
    },
    figures=("solar_hot_ratio", "solar_headroom_v", "solar_start_headroom_v"),
)


def check(given: SolarInput, survey: Survey, profile: Profile) -> Answer:
    """Judge one controller by its type; when that is not stated, by both."""
    banks = in_order(charged(survey.graph, survey.graph.number[f"{given.controller.id}.out+"]))
    kind = given.controller.parameters.get("type")
    if not banks:
        return None
    unknown = [f"{item}.block_nominal_v" for item in banks if rest_at_post_v(survey.graph, item)
               is None]
    if unknown:
        return Missing(tuple(unknown), given.where)
    plain, tracking = (judge(given, banks, survey, profile) for judge in (_plain, _tracking))
    if kind is not None:
        return plain if kind == "pwm" else tracking
    if tracking is None or isinstance(plain, Fault):
        return plain
    return Missing((f"{given.controller.id}.type",), given.where)


def _plain(given: SolarInput, banks: list[str], survey: Survey, profile: Profile) -> Answer:
    """Judge by what a plain controller needs: the battery's own volts and a little more."""
    unknown = given.unknown("panel_vmp_v")
    if unknown:
        return Missing(unknown, given.where)
    needed_v = _rest_v(banks, survey) + profile.value("solar_headroom_v")
    return _short("plain", "panel_vmp_v", needed_v, given, banks, survey, profile)


def _tracking(given: SolarInput, banks: list[str], survey: Survey, profile: Profile) -> Answer:
    """Judge by what a maximum-power controller needs to fill the bank, then to start."""
    absorption_v = charging_profile(survey.diagram, given.controller.id).absorption_v
    unknown = given.unknown("panel_vmp_v", "panel_voc_v")
    if absorption_v is None:
        return Missing((*unknown, f"{given.controller.id}.absorption_v"), given.where)
    if unknown:
        return Missing(unknown, given.where)
    fills_v = absorption_v + profile.value("solar_headroom_v")
    starts_v = _rest_v(banks, survey) + profile.value("solar_start_headroom_v")
    return _short("charge", "panel_vmp_v", fills_v, given, banks, survey, profile) or (
        _short("start", "panel_voc_v", starts_v, given, banks, survey, profile))


def _rest_v(banks: list[str], survey: Survey) -> float:
    """Return the rest volts of the full bank, the highest of several. [V]"""
    volts = (rest_at_post_v(survey.graph, item) for item in banks)
    return max(rest for rest in volts if rest is not None)


def _short(
    message: str, field: str, needed_v: float, given: SolarInput, banks: list[str],
    survey: Survey, profile: Profile,
) -> Answer:
    """Report the row of the fewest volts, if they are too few when hot."""
    ratio = profile.value("solar_hot_ratio")
    hot_v, row = min((round(row_v(one, field) * ratio, 3), tuple(array.id for array in one))
                     for one in given.rows)
    if hot_v >= round(needed_v, 3):
        return None
    if unknown := given.unknown("series_count"):
        return Missing(unknown, given.where)
    return Fault(message, (given.controller.id, *row), {"hot_v": hot_v, "needed_v": needed_v}, {
        "array": named(survey.diagram, row), "bank": named(survey.diagram, banks),
        "controller": named(survey.diagram, [given.controller.id])})
