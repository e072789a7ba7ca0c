"""What it checks.
Where each battery monitor takes its supply.

Why it matters.
A monitor that goes dark with the battery switch loses its count, and counts nothing of what stays
on.

Fails when.
With the battery switches off its supply is dead.

Passes when.
It is fed from the battery's side, with a fuse.

Limits.
A monitor whose maker asks for a switched supply is left alone when that is recorded. The fuse of
the lead belongs to 1.16.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.fed_by import fed_by
from model.analysis.unswitched import mains_open
from model.diagram import Component
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import lead_from, to_post
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

RULE = Rule(
    slug="monitor_fed_behind_switch",
    number="8.9",
    title="Monitor supply on the wrong side",
    topic="negative_side",
    severity="note",
    looks_at="each battery monitor",
    subjects=lambda survey: [
        c for c in survey.diagram.components.values() if c.kind == "monitor"],
    messages={
        "switched": "{monitor} goes dark with the battery switch: it is fed from {batteries} "
                    "behind it.",
    },
    remedy="Feed it from the battery's side of the switch, with a fuse.",
    sources=("monitor_makers",),
    quiet={"maker": "its maker asks for a switched supply"},
    fix="sometimes",
)


def check(monitor: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one monitor by what feeds it with the battery switches off."""
    graph = survey.graph
    node = graph.number[f"{monitor.id}.+"]
    batteries = fed_by(graph, [node])
    if not batteries or monitor.parameters.get("needs_battery_side") is False or (
            fed_by(graph, [node], mains_open(graph))):
        return None
    return Fault("switched", (monitor.id, *in_order(batteries)), {}, {
        "monitor": named(survey.diagram, [monitor.id]),
        "batteries": named(survey.diagram, in_order(batteries))})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to feed it from a battery's post, with a fuse of its own."""
    monitor, battery = finding.where[:2]
    lead = lead_from(survey, survey.graph.number[f"{monitor}.+"])
    if lead is not None:
        title = f"Feed {named(survey.diagram, [monitor])} from {named(survey.diagram, [battery])}"
        yield Fix(title, "choice", to_post(survey, profile, title, lead, f"{battery}.+"))
