"""What it checks.
Where the coil of each remote battery switch takes its supply.

Why it matters.
A remote switch whose coil hangs on its own far side cannot be closed again once it is open. One
that is fed from another bank fails when that bank is flat.

Fails when.
With the switch open nothing feeds its coil, or only a bank that the switch does not belong to.

Passes when.
The coil is fed from the line side, or a knob works the switch by hand.

Limits.
What a management unit or a helm panel sends to the coil is not followed: only conductors, contacts
and devices are. A coil without a drawn supply is left alone.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.fed_by import fed_by
from model.analysis.isolation_devices import is_remote_disconnect
from model.diagram import Component
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import LeadTo, other_end, terminal_name, to_post
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named

RULE = Rule(
    slug="remote_switch_coil_dead",
    number="2.12",
    title="Remote switch cannot operate when it is most needed",
    topic="isolation",
    severity="caution",
    looks_at="each contactor or relay that is a remote switch",
    subjects=lambda survey: [c for c in survey.diagram.components.values()
                             if is_remote_disconnect(c)],
    messages={
        "own_side": "The coil of {switch} is fed from its own far side: once open it cannot be "
                    "closed again.",
        "other_bank": "The coil of {switch} is fed from {others}, not from the bank it opens: with "
                      "that bank flat it cannot be worked.",
    },
    remedy="Feed the coil from the line side through a small fuse of its own; keep a knob.",
    sources=("common_practice",),
    quiet={
        "override": "a knob works it by hand",
        "line_side": "the coil is fed from the line side",
    },
    fix="sometimes",
)


def check(switch: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one remote switch by what feeds its coil while it is open."""
    graph = survey.graph
    coil = [graph.number[f"{switch.id}.coil+"]]
    closed = fed_by(graph, coil, {switch.id: "on"})
    if not closed or switch.parameters.get("remote") == "with_override":
        return None
    opened = fed_by(graph, coil, {switch.id: "off"})
    names = {"switch": named(survey.diagram, [switch.id]),
             "others": named(survey.diagram, in_order(opened))}
    if not opened:
        return Fault("own_side", (switch.id,), {}, names)
    if opened & fed_by(graph, _contacts(switch, survey), {switch.id: "off"}):
        return None
    return Fault("other_bank", (switch.id, *in_order(opened)), {}, names)


def _contacts(switch: Component, survey: Survey) -> list[int]:
    return [n for e in survey.graph.edges_of[switch.id] if e.role == "contact"
            for n in (e.a, e.b)]


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take the coil's lead to the line side of the switch, with a fuse of its own."""
    graph, diagram = survey.graph, survey.diagram
    switch = diagram.components[finding.where[0]]
    coil = f"{switch.id}.coil+"
    wires = [w for w in diagram.conductors.values()
             if coil in {f"{e.component}.{e.terminal}" for e in w.ends()}]
    line = [n for n in _contacts(switch, survey) if fed_by(graph, [n], {switch.id: "off"})]
    if len(wires) == 1 and len(line) == 1 and tuple(wires[0].cores) == ("+",):
        target = terminal_name(graph, line[0])
        title = f"Feed the coil of {named(diagram, [switch.id])} from {target}"
        lead = LeadTo(wires[0].id, other_end(wires[0], coil), has_device=False)
        yield Fix(title, "choice", to_post(survey, profile, title, lead, target))
