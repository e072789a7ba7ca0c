"""What it checks.
Where each external alternator regulator senses, against what its alternator charges, with every
switch in every position.

Why it matters.
A regulator brings the place where it senses to its volts, whatever that costs the place it charges.
One that senses a bank left behind a switch drives the other without limit until it boils.

Fails when.
In some position of one switch the sensed point and the charged bank are not joined. It is a danger
when it then senses another bank.

Passes when.
It senses at the bank that the alternator charges, with no contact between.

Limits.
One switch is moved at a time, from each usual state; relays that volts work are taken open and
closed. Where only the supply is drawn, and the bank it comes from differs, the sense wire is asked
for. A regulator that senses before a diode belongs to 3.6, what a lead loses to 3.19. Built-in
regulators sense at the machine.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from model.analysis.banks import handle_of
from model.analysis.charging import charged_in, posts
from model.analysis.regulator_sense import is_dead, sense_node, sensed_point, supply_node
from model.analysis.usual_states import AS_USUAL, usual_states
from model.diagram import Component
from model.edits import apply as applied
from model.survey import Survey
from rules.fixing import moved
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rewiring import other_end
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named

Positions = Mapping[str, str]

RULE = Rule(
    slug="regulator_senses_wrong_place",
    number="3.7",
    title="Regulator senses the wrong place",
    topic="charging",
    severity="fault",
    looks_at="each external alternator regulator",
    subjects=lambda survey: [c for c in survey.diagram.components.values()
                             if c.kind == "regulator"],
    messages={
        "other_bank": "{state}, {alternator} charges {charged} while {regulator} senses "
                      "{sensed}.",
        "nothing": "{state}, {alternator} charges {charged} while {regulator} senses no battery.",
    },
    remedy="Sense at the post of the bank that the alternator charges.",
    sources=("regulator_tests", "common_practice"),
    quiet={
        "same_bank": "it senses at the bank that the alternator is wired to",
        "unwired": "neither sense wire nor supply is drawn: it senses at the machine",
        "dead": "a switch that takes the regulator's supply away stops its alternator",
    },
    fix="sometimes",
    follows=True,
)


def check(regulator: Component, survey: Survey, profile: Profile) -> Answer:
    """Judge one regulator by the states in which it senses elsewhere; another bank first."""
    alternator, graph = _alternator(regulator, survey), survey.graph
    sensing, supply = sense_node(graph, regulator.id), supply_node(graph, regulator.id)
    point = supply if sensing is None else sensing
    if point is None:
        return None
    if alternator is None:
        return Missing((f"{regulator.id}.regulates",), (regulator.id,))
    apart = list(_apart(regulator.id, alternator, point, survey))
    if apart and sensing is None:
        return Missing((f"{regulator.id}.sense",), (regulator.id, alternator))
    apart.sort(key=lambda found: not found[3])
    for switch, position, charged, sensed in apart:
        return Fault(
            "other_bank" if sensed else "nothing",
            (regulator.id, alternator, *switch, *in_order(charged | sensed)), {},
            {"state": _told_state(survey, switch, position),
             "alternator": named(survey.diagram, [alternator]),
             "regulator": named(survey.diagram, [regulator.id]),
             "charged": named(survey.diagram, in_order(charged)),
             "sensed": named(survey.diagram, in_order(sensed))},
            severity="danger" if sensed else "fault")
    return None


def _told_state(survey: Survey, switch: tuple[str, ...], position: str) -> str:
    if switch:
        return f"With {named(survey.diagram, switch)} at {position}"
    return "As things usually stand" if position == AS_USUAL else f"In the mode '{position}'"


def _alternator(regulator: Component, survey: Survey) -> str | None:
    """Return the alternator it regulates, by the word of either."""
    components = survey.diagram.components
    own = regulator.parameters.get("regulates")
    if own in components:
        return str(own)
    return next((c.id for c in components.values()
                 if c.parameters.get("regulator") == regulator.id), None)


Apart = tuple[tuple[str, ...], str, frozenset[str], frozenset[str]]


def _apart(regulator: str, alternator: str, sensing: int, survey: Survey) -> Iterator[Apart]:
    """Yield the switches and positions in which it charges and senses apart: with the batteries
    charged, and those sensed.
    """
    graph = survey.graph
    start = graph.number[f"{alternator}.+"]
    for item, position, positions in _states(survey):
        charged = charged_in(graph, start, positions, over_relays=False)
        joined = sensed_point(graph, sensing, positions)
        sensed = frozenset(posts(graph)[n] for n in joined & posts(graph).keys())
        if charged and start not in joined and not sensed & charged and not is_dead(
                graph, regulator, positions):
            yield item, position, charged, sensed


def _states(survey: Survey) -> Iterator[tuple[tuple[str, ...], str, Positions]]:
    """Yield every usual state, then with each contact in each of its positions."""
    graph = survey.graph
    handles = {edge.handle: edge for edge in graph.edges if edge.role == "contact"}
    for state in usual_states(survey.diagram):
        yield (), state.name, state.positions
        for handle, edge in handles.items():
            for position in handle_of(graph, edge).positions:
                yield (edge.owner,), position, {**state.positions, str(handle): position}


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer to take the sense wire to a post that the alternator charges as things usually stand.
    """
    graph, diagram = survey.graph, survey.diagram
    regulator, alternator = finding.where[:2]
    charged = in_order(charged_in(graph, graph.number[f"{alternator}.+"], {}, over_relays=False))
    wires = [(w, e) for w in diagram.conductors.values() for e in w.ends()
             if e.component == regulator and e.terminal == "sense"]
    for wire, end in wires[:1]:
        for battery in charged:
            title = f"Take {named(diagram, [wire.id])} to {named(diagram, [battery])}"
            far = other_end(wire, f"{end.component}.{end.terminal}")
            edit = moved(diagram, title, wire.id, far, f"{battery}.+")
            after = Survey(applied(diagram, edit))
            if check(after.diagram.components[regulator], after, profile) is None:
                yield Fix(title, "choice", edit)
