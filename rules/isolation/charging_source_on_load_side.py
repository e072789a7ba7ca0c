"""What it checks.
Each charging source's output with every battery switch off.

Why it matters.
Opened under charge, the switch takes the battery away from the source: its voltage jumps and kills
what shares the node, and often the source too. And the loads stay live after "off".

Fails when.
With the battery switches off the output is joined to no battery any more, and loads share its node.

Passes when.
The source is on the battery's side of the switch, or is cut off together with it.

Limits.
A starter on the same node is not counted as a load. What one switch alone does to a running
alternator belongs to 2.6; here it counts when two have to be off. Inverter-chargers are not looked
at: their inverter belongs behind the switch. A shore charger whose output no load shares belongs to
3.23.
"""

from __future__ import annotations

from collections.abc import Iterator, Set
from dataclasses import dataclass

from model.analysis.banks import loads_at
from model.analysis.reach import ever_joined, stiff_reach
from model.analysis.unswitched import mains_at, mains_open
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import lead_from, to_post
from rules.rule import Answer, Fault, Finding, Fix, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Output:
    """The output terminal of a charging source or converter."""

    source: str
    node: int


def _outputs(survey: Survey) -> Iterator[Output]:
    graph = survey.graph
    for component in survey.diagram.components.values():
        if component.kind in ("alternator", "wind_generator"):
            yield Output(component.id, graph.number[f"{component.id}.+"])
        elif component.kind != "inverter_charger":
            for edge in graph.edges_of.get(component.id, ()):
                if edge.role == "converter":
                    yield Output(component.id, edge.b)


RULE = Rule(
    slug="charging_source_on_load_side",
    number="2.4",
    title="Charging source on the load side of the battery switch",
    topic="isolation",
    severity="fault",
    looks_at="each output of a charging source",
    subjects=_outputs,
    messages={
        "load_side": "With {switch} off, {source} has no battery any more; left on its output: "
                     "{loads}.",
    },
    remedy="Connect the source to the battery's side of the switch, with its own fuse.",
    sources=("controller_makers", "common_practice"),
    quiet={
        "inverter": "it is an inverter-charger",
        "own_isolator": "the source has its own isolator that is worked together with the switch",
        "alternator": "it is an alternator that one switch alone unloads: 2.6 judges that",
        "survives": "the source needs battery voltage to run and its maker states that it shuts "
                    "down without a rise in voltage",
    },
    fix="sometimes",
)


def check(output: Output, survey: Survey, profile: Profile) -> Answer:
    """Judge one output."""
    graph = survey.graph
    part = survey.diagram.components[output.source]
    if part.parameters.get("survives_no_battery") is True:
        return None
    batteries = {graph.number[f"{item}.+"] for bank in survey.banks for item in bank.batteries}
    if not ever_joined(graph, [output.node]) & batteries:
        return None
    mains = mains_open(graph)
    alone = stiff_reach(graph, [output.node], mains)
    loads = [item for item in in_order(loads_at(graph, alone))
             if survey.diagram.components[item].kind != "starter"]
    if alone & batteries or not loads:
        return None
    switches = in_order(mains_at(graph, alone, mains))
    one_switch_unloads = part.kind == "alternator" and len(switches) == 1
    if one_switch_unloads or _is_interlocked(output, switches, alone, survey):
        return None
    return Fault(
        "load_side", (output.source, *switches, *loads), {},
        {"source": named(survey.diagram, [output.source]),
         "switch": named(survey.diagram, switches), "loads": named(survey.diagram, loads)},
        severity="danger" if part.kind == "alternator" else "fault")


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take the source to a battery's post, with its own fuse there."""
    graph, diagram = survey.graph, survey.diagram
    source = finding.where[0]
    posts = {graph.number[f"{item}.+"]: item for bank in survey.banks for item in bank.batteries}
    for output in (one for one in _outputs(survey) if one.source == source):
        lead = lead_from(survey, output.node)
        reached = stiff_reach(graph, [output.node], {})
        batteries = in_order(posts[node] for node in reached & set(posts))
        if lead is not None and batteries:
            title = (f"Take {named(diagram, [source])} by {named(diagram, [lead.conductor])} to "
                     f"{named(diagram, batteries[:1])}")
            yield Fix(title, "choice",
                      to_post(survey, profile, title, lead, f"{batteries[0]}.+"))


def _is_interlocked(
    output: Output, switches: list[str], nodes: Set[int], survey: Survey
) -> bool:
    """Say whether the source is stopped by the switch, or has a stop of its own in its lead."""
    components = survey.diagram.components
    stops = components[output.source].parameters.get("stops_on", ())
    if set(switches) & set(stops):
        return True
    parts = {survey.graph.component_of[node] for node in nodes}
    return any(components[item].parameters.get("role") == "source_stop" for item in parts)
