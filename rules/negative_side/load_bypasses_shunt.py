"""What it checks.
Each conductor that ends on the battery's side of a shunt in the negative.

Why it matters.
What bypasses the shunt is not counted: the monitor promises charge that is no longer there.

Fails when.
A load, a panel or an inverter returns there, or a conductor leads around the shunt.

Passes when.
Nothing ends there but the shunt, the links of the bank and the monitor's own lead.

Limits.
A bank without a shunt is not looked at. Sources belong to 8.2. Another bank's negative on that side
belongs to 8.3. Only drawn negatives are followed: an implied return is taken to end on the system's
side.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.shunts import Bypass, bypasses
from model.survey import Survey
from rules.fixing import moved, without
from rules.profiles import Profile
from rules.rewiring import terminal_name
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

RULE = Rule(
    slug="load_bypasses_shunt",
    number="8.1",
    title="A load bypasses the shunt",
    topic="negative_side",
    severity="fault",
    looks_at="each conductor on the battery's side of a shunt",
    subjects=bypasses,
    messages={
        "load": "{wire} ends on the battery's side of {shunt}: what {loads:takes/take} is not "
                "counted.",
        "around": "{wire} leads around {shunt}: part of the current is not counted.",
    },
    remedy="Move the conductor's end to the system's side of the shunt.",
    sources=("monitor_makers",),
    quiet={
        "other_bank": "the bank has no shunt, or it is another bank's negative",
        "source": "nothing but a charging source returns there: 8.2 judges it",
        "own_lead": "it is the monitor's own lead, or a sense lead",
    },
    fix="always",
)


def check(bypass: Bypass, survey: Survey, profile: Profile) -> Answer:
    """Judge one conductor before the shunt."""
    shunt = bypass.shunted.shunt
    names = {"wire": named(survey.diagram, [bypass.conductor]),
             "shunt": named(survey.diagram, [shunt]), "loads": named(survey.diagram, bypass.loads)}
    if bypass.around:
        return Fault("around", (bypass.conductor, shunt), {}, names)
    if not bypass.loads:
        return None
    return Fault("load", (bypass.conductor, shunt, *bypass.loads, *bypass.sources), {}, names)


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to move the end to the shunt's other side, or to take away what leads around."""
    bypass = next(b for b in bypasses(survey) if b.conductor == finding.where[0])
    diagram = survey.diagram
    wire = named(diagram, [bypass.conductor])
    if bypass.around:
        title = f"Take {wire} away"
        yield Fix(title, "choice", without(diagram, title, [bypass.conductor]))
        return
    title = f"Move {wire} to the system's side of {named(diagram, [bypass.shunted.shunt])}"
    yield Fix(title, "mechanical", moved(
        diagram, title, bypass.conductor, terminal_name(survey.graph, bypass.at),
        terminal_name(survey.graph, bypass.shunted.system_node)))
