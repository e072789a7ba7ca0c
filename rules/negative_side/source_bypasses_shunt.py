"""What it checks.
Where the negatives of alternators, chargers, solar controllers and converters end.

Why it matters.
Charge that bypasses the shunt is not counted: the monitor shows a bank emptier than it is, and the
error grows from day to day.

Fails when.
The negative of a source ends on the battery's side of the shunt.

Passes when.
It ends on the system's side.

Limits.
A conductor over which loads return too belongs to 8.1. Only drawn negatives are followed.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.shunts import Bypass, bypasses
from model.survey import Survey
from rules.fixing import moved
from rules.profiles import Profile
from rules.rewiring import terminal_name
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

RULE = Rule(
    slug="source_bypasses_shunt",
    number="8.2",
    title="A charging source bypasses the shunt",
    topic="negative_side",
    severity="fault",
    looks_at="each conductor on the battery's side of a shunt",
    subjects=bypasses,
    messages={
        "source": "{wire} ends on the battery's side of {shunt}: what {sources:gives/give} is not "
                  "counted.",
    },
    remedy="Move the conductor's end to the system's side of the shunt.",
    sources=("monitor_makers",),
    quiet={
        "no_shunt": "the bank has no shunt",
        "load": "loads return over it too, or it leads around the shunt: 8.1 judges it",
    },
    fix="always",
)


def check(bypass: Bypass, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor before the shunt."""
    if bypass.loads or not bypass.sources:
        return None
    return Fault("source", (bypass.conductor, bypass.shunted.shunt, *bypass.sources), {}, {
        "wire": named(survey.diagram, [bypass.conductor]),
        "shunt": named(survey.diagram, [bypass.shunted.shunt]),
        "sources": named(survey.diagram, bypass.sources)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to move the end to the shunt's other side."""
    bypass = next(b for b in bypasses(survey) if b.conductor == finding.where[0])
    diagram = survey.diagram
    title = (f"Move {named(diagram, [bypass.conductor])} to the system's side of "
             f"{named(diagram, [bypass.shunted.shunt])}")
    yield Fix(title, "mechanical", moved(
        diagram, title, bypass.conductor, terminal_name(survey.graph, bypass.at),
        terminal_name(survey.graph, bypass.shunted.system_node)))
