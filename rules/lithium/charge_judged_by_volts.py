"""What it checks.
Whether something counts the current of each lithium battery.

Why it matters.
From full to nearly empty the volts of lithium hardly move. Who goes by them is in the dark without
warning.

Fails when.
No monitor counts its current, and the management does not report how full it is.

Passes when.
One of them does.

Limits.
Whether the count is set right is not judged.
"""

from __future__ import annotations

from model.analysis.management import lithium_batteries, unit_of
from model.diagram import Component
from model.survey import Survey
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="charge_judged_by_volts",
    number="6.18",
    title="State of charge judged by voltage alone",
    topic="lithium",
    severity="note",
    looks_at="each lithium battery",
    subjects=lambda survey: lithium_batteries(survey.diagram),
    messages={"volts": "Nothing counts the current of {battery}: its volts do not tell how full it "
                       "is."},
    remedy="Fit a monitor that counts current.",
    sources=("battery_makers",),
    quiet={"reports": "the management reports the state of charge"},
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    parts = survey.diagram.components.values()
    watcher = unit_of(survey.diagram, battery) or battery
    reports = watcher.parameters.get("reports_state_of_charge")
    monitors = [p for p in parts if p.kind == "monitor"]
    counted = any(part.parameters.get("measures") == battery.id for part in parts)
    if reports is True or counted or any(
            m.parameters.get("counts_current") is True for m in monitors):
        return None
    asked = [f"{watcher.id}.reports_state_of_charge"] if reports is None else []
    asked += [f"{m.id}.counts_current" for m in monitors if "counts_current" not in m.parameters]
    return Missing(tuple(asked), (battery.id,)) if asked else Fault(
        "volts", (battery.id,), {}, {"battery": named(survey.diagram, [battery.id])})
