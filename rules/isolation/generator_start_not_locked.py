"""What it checks.
Each generating set that can start by itself or from afar: whether its starter can be parted from
its battery.

Why it matters.
A set that starts while hands are at its belts or its terminals takes fingers, or puts mains voltage
on what was dead.

Fails when.
No switch that a hand opens is between the battery and its starter.

Passes when.
There is one, or the set is started by hand alone.

Limits.
Whether the switch can be locked belongs to the isolation card. The starter is found by the engine
that both name.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import is_isolating
from model.analysis.reach import always_closed, reach
from model.analysis.unswitched import posts
from model.diagram import Component
from model.survey import Survey
from rules.fixing import inserted
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import NEAR_M
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

RULE = Rule(
    slug="generator_start_not_locked",
    number="2.18",
    title="Generator can be started remotely while being worked on",
    topic="isolation",
    severity="danger",
    looks_at="each generating set",
    subjects=lambda survey: [
        c for c in survey.diagram.components.values() if c.kind == "generating_set"],
    messages={
        "no_switch": "{generator} can start by itself, and no switch parts {starters} from the "
                     "battery while somebody works on it.",
    },
    remedy="Lock off the set's starting and add it to the isolation plan; fit a switch at its "
           "battery.",
    sources=("common_practice",),
    quiet={"manual": "it is started by hand alone"},
    fix="always",
)


def check(generator: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one generating set by what parts its starter."""
    starts_itself = generator.parameters.get("auto_start")
    if starts_itself is False:
        return None
    engine = generator.parameters.get("driven_by", generator.id)
    own = in_order(c.id for c in survey.diagram.components.values()
                   if c.kind == "starter" and c.parameters.get("driven_by") == engine)
    if not own:
        return Missing((f"{generator.id}.driven_by",), (generator.id,)) if starts_itself else None
    bare = [item for item in own if _is_bare(item, survey)]
    if not bare:
        return None
    if starts_itself is None:
        return Missing((f"{generator.id}.auto_start",), (generator.id, *bare))
    return Fault("no_switch", (generator.id, *bare), {}, {
        "generator": named(survey.diagram, [generator.id]),
        "starters": named(survey.diagram, bare)})


def _is_bare(starter: str, survey: Survey) -> bool:
    """Say whether a battery reaches a starter without a switch that a hand opens."""
    graph = survey.graph
    starts = [n for bank in survey.banks for n in posts(graph, bank)]
    reached = reach(graph, starts, lambda e, n: (
        always_closed(e, n) and not is_isolating(graph, e)))
    return graph.number[f"{starter}.+"] in reached


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a battery switch in the starter's lead."""
    plus = f"{finding.where[1]}.+"
    wires = [w.id for w in survey.diagram.conductors.values()
             if plus in {f"{e.component}.{e.terminal}" for e in w.ends()}]
    title = f"Fit a battery switch in the lead of {named(survey.diagram, finding.where[1:2])}"
    if len(wires) == 1:
        yield Fix(title, "choice", inserted(
            survey.diagram, title, wires[0], plus, "battery_switch", NEAR_M))
