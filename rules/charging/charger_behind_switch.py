"""What it checks.
Each output of a shore charger with every battery switch off.

Why it matters.
The boat lies at the quay, the battery switch is off as it should be, shore power is on, and the
bank is not charged. In spring it is dead.

Fails when.
With the battery switches off the output is joined to no battery any more.

Passes when.
It stays joined to the bank, on the battery's side of the switch.

Limits.
Where loads share the output the charger keeps them alive without a battery: that is the worse
cause, and 2.4 speaks alone. Inverter-chargers belong behind the switch with their inverter.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import loads_at
from model.analysis.charging import Outlet, outlets, posts
from model.analysis.reach import ever_joined, stiff_reach
from model.analysis.unswitched import mains_at, mains_open
from model.edits import Edit
from model.edits import apply as applied
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import lead_from, taken_out, to_post
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

RULE = Rule(
    slug="charger_behind_switch",
    number="3.23",
    title="Charger wakes only when the battery switch is on",
    topic="charging",
    severity="fault",
    looks_at="each output of a shore charger",
    subjects=lambda survey: [outlet for outlet in outlets(survey.graph) if
                             survey.diagram.components[outlet.source].kind == "shore_charger"],
    messages={
        "asleep": "With {switch} off, {charger} charges no battery.",
    },
    remedy="Take the charger's output to the battery's side of the switch, with a fuse.",
    sources=("forum_cases", "common_practice"),
    quiet={
        "loads": "loads share the output: 2.4 judges that",
    },
    fix="sometimes",
)


def check(outlet: Outlet, survey: Survey, profile: Profile) -> Answer:
    """Judge one output by what it is joined to when the switches are off."""
    graph = survey.graph
    batteries = set(posts(graph))
    mains = mains_open(graph)
    alone = stiff_reach(graph, [outlet.node], mains)
    loads = [item for item in loads_at(graph, alone)
             if survey.diagram.components[item].kind != "starter"]
    if alone & batteries or loads or not (
            ever_joined(graph, [outlet.node]) & batteries):
        return None
    switches = in_order(mains_at(graph, alone, mains))
    if not switches:
        return None
    return Fault("asleep", (outlet.source, *switches), {}, {
        "charger": named(survey.diagram, [outlet.source]),
        "switch": named(survey.diagram, switches)})


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take the output to a battery's post, or the switch out of its lead."""
    graph, diagram = survey.graph, survey.diagram
    for outlet in (one for one in outlets(graph) if one.source == finding.where[0]):
        lead = lead_from(survey, outlet.node)
        reached = stiff_reach(graph, [outlet.node], {})
        batteries = in_order(posts(graph)[node] for node in reached & posts(graph).keys())
        if lead is not None and batteries:
            title = (f"Take {named(diagram, [outlet.source])} by "
                     f"{named(diagram, [lead.conductor])} to {named(diagram, batteries[:1])}")
            yield from _settling(
                survey, title, to_post(survey, profile, title, lead, f"{batteries[0]}.+"), outlet)
        for switch in finding.where[1:]:
            title = f"Take {named(diagram, [switch])} out of the charger's lead"
            yield from _settling(survey, title, taken_out(diagram, title, switch), outlet)


def _settling(survey: Survey, title: str, edit: Edit | None, outlet: Outlet) -> Iterator[Fix]:
    """Offer an edit after which the output is joined to a battery with the switches off."""
    if edit is not None:
        after = Survey(applied(survey.diagram, edit)).graph
        start = after.number[survey.graph.names[outlet.node]]
        if stiff_reach(after, [start], mains_open(after)) & posts(after).keys():
            yield Fix(title, "choice", edit)
