"""What it checks.
The age of each lead battery at the date of the drawing.

Why it matters.
Old batteries fail in the first cold night, or short inside while they are charged.

Fails when.
It is older than the figure for its sort, and no test of its capacity is recorded.

Passes when.
It is younger, or tested.

Limits.
The date of the drawing is taken for today. Lithium is not judged by years.
"""

from __future__ import annotations

from model.diagram import Component
from model.survey import Survey
from rules.batteries_aboard import batteries_aboard
from rules.dates import MONTHS, months
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

YEARS = {"flooded": "flooded_life_y", "agm": "agm_life_y", "gel": "agm_life_y"}

RULE = Rule(
    slug="battery_past_its_years",
    number="5.14",
    title="Bank older than its service life",
    topic="batteries",
    severity="note",
    looks_at="each lead battery",
    subjects=lambda survey: [battery for battery in batteries_aboard(survey)
                             if battery.parameters.get("chemistry") in YEARS],
    messages={"old": "{battery} is {age_months} old; {limit_months} is its service life."},
    remedy="Test its capacity, or replace it.",
    sources=("common_practice",),
    quiet={"tested": "its capacity was tested"},
    figures=("flooded_life_y", "agm_life_y"),
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    if "tested_capacity_ah" in battery.parameters:
        return None
    today, made = months(survey.diagram.boat.date), months(battery.installed)
    asked = (*(["boat.date"] if today is None else []),
             *([f"{battery.id}.installed"] if made is None else []))
    if today is None or made is None:
        return Missing(asked, (battery.id,))
    limit = profile.value(YEARS[battery.parameters["chemistry"]]) * MONTHS
    return Fault("old", (battery.id,), {"age_months": today - made, "limit_months": limit},
                 {"battery": named(survey.diagram, [battery.id])}) if today - made > limit else None
