"""What it checks.
The current through each shunt over the duty cases, against its rating.

Why it matters.
A shunt that runs hot drifts, and with it the monitor's count; far beyond its rating its solder
joints let go.

Fails when.
The lasting current is above two thirds of the rating, or any current is above it.

Passes when.
The lasting current stays below, and cranking stays within the rating for short times.

Limits.
Cranking from a bank that the shunt does not count belongs to 8.3. Where its bank is named and the
returns are implied, the bank's own current is taken.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from model.analysis.operating_point import OperatingPoint
from model.analysis.shunts import carries_cranking, shunted_banks
from model.analysis.through_current import Measured, Through, by_edges, through
from model.diagram import Component
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="shunt_overloaded",
    number="8.5",
    title="Shunt overloaded",
    topic="negative_side",
    severity="fault",
    looks_at="each shunt",
    subjects=lambda survey: [c for c in survey.diagram.components.values() if c.kind == "shunt"],
    messages={
        "lasting": "{shunt} of {rated_a} carries {current_a} for long, more than {limit_a}.",
        "short": "{shunt} of {rated_a} carries {current_a} while {load} runs, more than {limit_a}.",
    },
    remedy="Fit a larger shunt.",
    sources=("monitor_makers",),
    quiet={
        "cranking": "cranking stays within the rating for short times",
        "other": "it is cranking from a bank that the shunt does not count: 8.3 judges it",
    },
    figures=("shunt_lasting_ratio",),
    fix="always",
)


def check(shunt: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one shunt by its lasting current, then by each short-time load."""
    lasting, brief = through(survey, _measured(shunt, survey))
    rated_a = shunt.parameters.get("rated_a")
    if rated_a is None:
        return Missing((f"{shunt.id}.rated_a",), (shunt.id,)) if lasting.current_a else None
    limit_a = rated_a * profile.value("shunt_lasting_ratio")
    if lasting.current_a > limit_a:
        return _fault("lasting", shunt, lasting, limit_a, survey, profile)
    short_a = shunt.parameters.get("short_time_a")
    others = {s for one in shunted_banks(survey) if one.shunt == shunt.id
              for s in carries_cranking(survey, one)}
    unsaid = False
    for one in brief:
        if one.load in others or one.current_a <= rated_a:
            continue
        cranks = survey.diagram.components[one.load].kind == "starter"
        most_a = short_a if cranks else rated_a
        if most_a is None:
            unsaid = True
        elif one.current_a > most_a:
            return _fault("short", shunt, one, most_a, survey, profile)
    return Missing((f"{shunt.id}.short_time_a",), (shunt.id,)) if unsaid else None


def _measured(shunt: Component, survey: Survey) -> Measured:
    own = by_edges(survey, shunt.id, "join")
    bank = shunt.parameters.get("measures", "")

    def measured(point: OperatingPoint) -> float:
        part = point.parts.get(bank)
        return max(own(point), 0.0 if part is None else abs(part.current_a))
    return measured


def _fault(
    message: str, shunt: Component, one: Through, limit_a: float, survey: Survey, profile: Profile
) -> Fault:
    return Fault(
        message, (shunt.id, one.load) if one.load else (shunt.id,),
        {"current_a": one.current_a, "rated_a": shunt.parameters["rated_a"],
         "limit_a": round(limit_a, 1)},
        {"shunt": named(survey.diagram, [shunt.id]), "load": named(survey.diagram, [one.load])},
        sources=(profile["shunt_lasting_ratio"].source,))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer the shunt of the next hundred amperes that carries the current for long."""
    least_a = finding.figures["current_a"] / profile.value("shunt_lasting_ratio")
    larger_a = 100 * math.ceil(least_a / 100)
    shunt = finding.where[0]
    title = f"Fit a shunt of {larger_a:g} A as {named(survey.diagram, [shunt])}"
    yield Fix(title, "choice", with_fields(
        survey.diagram, title, shunt, rated_a=float(larger_a), short_time_a=None))
