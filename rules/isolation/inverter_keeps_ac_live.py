"""What it checks.
Each inverter whose AC output is wired: what keeps that output live with shore and generator off.

Why it matters.
Who unplugs the shore lead believes that the outlets are dead. The inverter takes over from the
batteries within a moment; people have died of it.

Fails when.
No label warns of the second source. It is a danger when nothing parts the inverter from the
batteries, so that no steps can make the outlets dead.

Passes when.
A warning is recorded at the inverter or at the panel it feeds.

Limits.
Isolation steps name the inverter's DC side by themselves wherever a device is there. A fuse that
can be pulled counts as one.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.reach import always_closed, reach
from model.analysis.unswitched import posts
from model.diagram import Component
from model.graph import Edge
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.warning_labels import labelling
from rules.wording import named

OUTPUTS = ("ac", "ac_out")


def _inverters(survey: Survey) -> list[Component]:
    """Return the inverters with something on their AC output."""
    wired = {e.component for w in survey.diagram.conductors.values() for e in w.ends()
             if e.terminal in OUTPUTS}
    return [c for c in survey.diagram.components.values()
            if c.kind in ("inverter", "inverter_charger") and c.id in wired]


RULE = Rule(
    slug="inverter_keeps_ac_live",
    number="2.15",
    title="Inverter keeps AC live after shore power is unplugged",
    topic="isolation",
    severity="note",
    looks_at="each inverter with something on its AC output",
    subjects=_inverters,
    messages={
        "label": "{inverter} keeps its AC output live with shore power unplugged, and no label "
                 "says so.",
        "no_disconnect": "{inverter} keeps its AC output live with shore power unplugged, and "
                         "nothing parts it from the batteries.",
    },
    remedy="Fit a label that warns of two sources, and a DC disconnect for the inverter.",
    sources=("abyc_e11", "common_practice"),
    quiet={"label": "a warning is recorded at the inverter or at the panel it feeds"},
    fix="sometimes",
)


def check(inverter: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one inverter by its disconnect, then by its label."""
    names = {"inverter": named(survey.diagram, [inverter.id])}
    if _reached_without_device(inverter, survey):
        return Fault("no_disconnect", (inverter.id,), {}, names, severity="danger")
    if inverter.warning_text or any(survey.diagram.components[item].warning_text
                                    for item in _panels(inverter, survey)):
        return None
    return Fault("label", (inverter.id,), {}, names)


def _reached_without_device(inverter: Component, survey: Survey) -> bool:
    graph, devices = survey.graph, survey.devices

    def passes(edge: Edge, node: int) -> bool:
        return always_closed(edge, node) and (
            edge.index in devices.closed and edge.index not in devices.opening)

    starts = [n for bank in survey.banks for n in posts(graph, bank)]
    return graph.number[f"{inverter.id}.+"] in reach(graph, starts, passes)


def _panels(inverter: Component, survey: Survey) -> set[str]:
    """Return the AC panels that its output reaches."""
    graph = survey.graph
    starts = [n for n in graph.nodes_of(inverter.id) if graph.names[n].endswith((".L", "outL"))]
    reached = reach(graph, starts, lambda e, _: e.role not in ("load", "source", "converter"))
    return {graph.component_of[n] for n in reached
            if survey.diagram.components[graph.component_of[n]].kind == "ac_panel"}


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a label at the panel it feeds, else at the inverter; what parts it is the fuse of 1.1.
    """
    item = finding.where[0]
    if finding.message_id == "label":
        panels = in_order(_panels(survey.diagram.components[item], survey))
        yield labelling(survey, (*panels, item)[0], (
            f"Live from the inverter {named(survey.diagram, [item])} with shore power unplugged"))
