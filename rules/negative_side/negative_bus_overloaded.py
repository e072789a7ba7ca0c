"""What it checks.
All that flows over each negative busbar at one time, against its rating.

Why it matters.
The negative bus carries what all positive circuits together carry; it is the bar that is forgotten
when loads are added.

Fails when.
In some duty case the sum of the currents is above the rating.

Passes when.
The sum stays below the rating in each case; what never runs together is never added.

Limits.
Cranking is left out: it lasts seconds. A bar of unknown rating is asked after only when it carries
much. Positive bars belong to 1.26.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from model.analysis.through_current import by_sum, through
from model.diagram import Component
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


def _bars(survey: Survey) -> list[Component]:
    return [c for c in survey.diagram.components.values()
            if c.parameters.get("pole") == "-"]


RULE = Rule(
    slug="negative_bus_overloaded",
    number="8.6",
    title="Negative busbar overloaded",
    topic="negative_side",
    severity="fault",
    looks_at="each negative busbar, terminal block and stud",
    subjects=_bars,
    messages={
        "overloaded": "{bar} carries {current_a} at one time, more than the {rated_a} it is rated "
                      "for.",
    },
    remedy="Fit a larger bar, or two.",
    sources=("common_practice",),
    quiet={
        "apart": "the currents never run together",
        "small": "its rating is unknown and it carries no more than any bar may",
    },
    figures=("unrated_bar_a",),
    fix="always",
)


def check(bar: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one bar by the worst case without cranking."""
    lasting, brief = through(survey, by_sum(survey, bar.id))
    currents = [lasting.current_a] + [
        one.current_a for one in brief
        if survey.diagram.components[one.load].kind != "starter"]
    current_a, rated_a = max(currents), bar.parameters.get("rated_a")
    if rated_a is None:
        unknown = current_a > profile.value("unrated_bar_a")
        return Missing((f"{bar.id}.rated_a",), (bar.id,)) if unknown else None
    if current_a <= rated_a:
        return None
    return Fault("overloaded", (bar.id,), {"current_a": current_a, "rated_a": rated_a},
                 {"bar": named(survey.diagram, [bar.id])})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a bar of the next hundred amperes."""
    larger_a = 100 * math.ceil(finding.figures["current_a"] / 100)
    title = f"Fit a bar of {larger_a:g} A as {named(survey.diagram, finding.where[:1])}"
    yield Fix(title, "choice", with_fields(
        survey.diagram, title, finding.where[0], rated_a=float(larger_a)))
