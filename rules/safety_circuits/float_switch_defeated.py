"""What it checks.
How each float switch is wired: in which pole, and whether the hand switch can make it dead.

Why it matters.
In the negative, any leak to the engine starts the pump or keeps it from stopping, and the pump
corrodes. With a hand switch before it, the last one ashore turns the automatic pump off.

Fails when.
The float switch opens the negative of an earthed system, or it does not work whatever the hand
switch says and no separate pump is worked by hand.

Passes when.
It is in the positive and independent of the hand switch, or another pump is there for the hand.

Limits.
What is inside a pump control is known only by what is recorded of it; where nothing is, the hand
switches drawn before and behind the float are looked at; of several pumps in its line one that
runs is enough. Floats of water alarms are left out.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.banks import off_position
from model.analysis.circuit_switches import feeding_in_use, hand_switches
from model.analysis.load_supply import live_when_on
from model.analysis.negatives import earthing, is_drawn
from model.analysis.reach import reach
from model.diagram import Component
from model.edits import apply as applied
from model.graph import Edge, TerminalGraph
from model.survey import Survey
from rules.beside_the_float import beside_float
from rules.profiles import Profile
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.safety_loads import pumps, role_of
from rules.wording import named


def _of_pumps(survey: Survey) -> list[Component]:
    """Return the float switches aboard, but those that stand in the line of other loads alone."""
    graph = survey.graph
    found = []
    for part in survey.diagram.components.values():
        if part.kind == "float_switch" and part.stored is not True:
            loads = _in_line(graph, part.id)
            if not loads or any(_is_pump(survey.diagram.components[item]) for item in loads):
                found.append(part)
    return found


def _is_pump(load: Component) -> bool:
    return role_of(load).startswith("bilge_pump")


def _in_line(graph: TerminalGraph, switch: str) -> set[str]:
    """Return the loads joined to a switch with no device, bar, panel or battery between."""
    def passes(edge: Edge, node: int) -> bool:
        part = graph.component_of[edge.other(node)]
        return edge.role in ("conductor", "contact") and (
            graph.kinds[part].role not in ("distribution", "storage"))

    reached = reach(graph, graph.nodes_of(switch), passes)
    return {graph.component_of[node] for node in reached
            if graph.kinds[graph.component_of[node]].role == "load"}


RULE = Rule(
    slug="float_switch_defeated",
    number="10.11",
    title="Float switch in the negative, or pump manual switch that kills automatic",
    topic="safety_circuits",
    severity="fault",
    looks_at="each float switch of a bilge pump",
    subjects=_of_pumps,
    messages={
        "negative": "{switch} opens the negative of its pump.",
        "killed": "The hand switch of the pump makes {switch} dead: it does not work whatever the "
                  "hand switch says.",
    },
    remedy="Fit an off-auto-manual switch that leaves the automatic side live, and switch the "
           "positive.",
    sources=("common_practice",),
    quiet={"manual": "a separate pump is worked by hand",
           "insulated": "the system is insulated from earth"},
    fix="sometimes",
)


def check(switch: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one float switch."""
    where, names = (switch.id,), {"switch": named(survey.diagram, [switch.id])}
    pole = _opened_pole(switch, survey)
    earthed, system = earthing(survey, switch.id)
    if pole == "-" and earthed == "negative_earthed":
        return Fault("negative", where, {}, names)
    independent = _is_independent(switch, survey)
    by_hand = any(survey.graph.number[f"{pump}.+"] in live_when_on(survey.graph)
                  for pump in pumps(survey, "bilge_pump_manual"))
    if independent is False and not by_hand:
        return Fault("killed", where, {}, names)
    asked = [f"{switch.id}.switched_pole"] if pole is None and earthed != "insulated" else []
    asked += [f"{system}.earthing"] if pole == "-" and earthed is None else []
    if independent is None and not by_hand:
        asked.append(f"{switch.id}.auto_independent_of_manual")
    return Missing(tuple(asked), where) if asked else None


def _opened_pole(switch: Component, survey: Survey) -> str | None:
    """Return the pole a float opens; None when nothing tells.

    Wires in the negative alone tell it whatever is recorded; wires in the positive alone do where
    nothing is, for a return that is not drawn is opened as recorded.
    """
    graph = survey.graph
    wired = {graph.names[node][-1] for node in graph.nodes_of(switch.id) if is_drawn(graph, node)}
    if wired == {"-"}:
        return "-"
    stated: str | None = switch.parameters.get("switched_pole") or switch.parameters.get("poles")
    return stated or ("+" if wired == {"+"} else None)


def _is_independent(switch: Component, survey: Survey) -> bool | None:
    """Say whether the float works whatever the hand switches say; None when nothing tells.

    What is recorded comes first, then whether a pump in its line runs with the float closed and the
    hand switches open; where none is in its line, whether either of its ends is live.
    """
    stated: bool | None = switch.parameters.get("auto_independent_of_manual")
    graph = survey.graph
    edge = next(edge for edge in graph.edges_of[switch.id] if edge.role == "contact")
    nodes = {graph.number[f"{load}.+"] for load in _in_line(graph, switch.id)
             if _is_pump(survey.diagram.components[load])}
    opened = {} if nodes else {str(edge.handle): off_position(graph, edge)}
    nodes = nodes or {edge.a, edge.b}
    if stated is not None or not feeding_in_use(graph, nodes, opened):
        return stated
    return bool(feeding_in_use(graph, nodes, {**hand_switches(graph), **opened}))


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to lead it past the hand switch before it, where that leaves it working by itself."""
    if finding.message_id == "killed":
        for fix in beside_float(survey, finding.where[0]):
            after = Survey(applied(survey.diagram, fix.edit))
            if check(after.diagram.components[finding.where[0]], after, profile) is None:
                yield fix
