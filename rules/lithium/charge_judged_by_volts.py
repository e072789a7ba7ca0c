"""What it checks.
Whether something counts the current of each lithium battery.

Why it matters.
From full to nearly empty the volts of lithium hardly move. Who goes by them is in the dark without
warning.

Fails when.
No monitor counts the current of its bank, and the management does not report how full it is.

Passes when.
One of them does.

Limits.
Whether the count is set right is not judged. A monitor counts the bank that feeds it, a shunt the
one it is said to measure; a monitor that is not connected is taken for this bank's.
"""

from __future__ import annotations

from model.analysis.fed_by import fed_by
from model.analysis.lithium_banks import LithiumBank, bank_of
from model.analysis.management import lithium_batteries, unit_of
from model.analysis.negatives import is_drawn
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
    quiet={"reports": "the management reports the state of charge",
           "counted": "a shunt or monitor counts the current of its bank"},
)


def check(battery: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one battery."""
    parts, bank = survey.diagram.components.values(), bank_of(survey.graph, battery.id)
    watcher = unit_of(survey.diagram, battery) or battery
    reports = watcher.parameters.get("reports_state_of_charge")
    monitors = [p for p in parts if p.kind == "monitor" and _may_count(p, bank, survey)]
    counted = any(part.parameters.get("measures") in bank.ids for part in parts)
    if reports is True or counted or any(
            m.parameters.get("counts_current") is True for m in monitors):
        return None
    asked = [f"{watcher.id}.reports_state_of_charge"] if reports is None else []
    asked += [f"{m.id}.counts_current" for m in monitors if "counts_current" not in m.parameters]
    return Missing(tuple(asked), (battery.id,)) if asked else Fault(
        "volts", (battery.id,), {}, {"battery": named(survey.diagram, [battery.id])})


def _may_count(monitor: Component, bank: LithiumBank, survey: Survey) -> bool:
    plus = survey.graph.number[f"{monitor.id}.+"]
    return not is_drawn(survey.graph, plus) or not fed_by(survey.graph, [plus]).isdisjoint(bank.ids)
