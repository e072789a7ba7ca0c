"""What it checks.
Whether somebody is warned before the management of a lithium battery disconnects it.

Why it matters.
Everything goes dark at once, in the dark, in the channel. Half a minute of warning is time to start
the engine or to turn something off.

Fails when.
It is recorded that nothing sounds before the management opens.

Passes when.
It sounds an alarm, or a screen with sound does.

Limits.
Whether the alarm can be heard at the helm is not judged.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.management import lithium_batteries, unit_of
from model.diagram import Component
from model.survey import Survey
from rules.fixing import with_fields
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="no_warning_before_disconnect",
    number="6.4",
    title="No warning before disconnect",
    topic="lithium",
    severity="fault",
    looks_at="each lithium battery but those without management",
    subjects=lambda survey: [battery for battery in lithium_batteries(survey.diagram)
                             if battery.parameters.get("management") != "none"],
    messages={"silent": "Nothing warns before the management disconnects {battery}."},
    remedy="Fit an alarm that the management unit works.",
    sources=("abyc_e13",),
    quiet={"screen": "a screen with an audible alarm shows it"},
    fix="sometimes",
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    watcher = unit_of(survey.diagram, battery) or battery
    alarm = watcher.parameters.get("alarm")
    if alarm is None:
        return Missing((f"{watcher.id}.alarm",), (battery.id,))
    if alarm == "none" and "management" not in battery.parameters:
        return Missing((f"{battery.id}.management",), (battery.id,))
    return Fault("silent", (battery.id,), {}, {"battery": named(survey.diagram, [battery.id])}) if (
        alarm == "none") else None


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a sounder on an external unit; what is inside a battery is as its maker made it."""
    unit = unit_of(survey.diagram, survey.diagram.components[finding.where[0]])
    if unit is not None:
        title = f"Fit a sounder that {named(survey.diagram, [unit.id])} works before it opens"
        yield Fix(title, "choice", with_fields(survey.diagram, title, unit.id, alarm="sounder"))
