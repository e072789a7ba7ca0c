"""What it checks.
Loads, panels, starters, converters and chargers: whether a battery, a source or a shore connection
feeds them in some position of the switches, and whether anything is drawn to their plus at all.

Why it matters.
What nothing feeds does not work, and often a conductor aboard is missing on the drawing: whoever
isolates a circuit by it trusts what is not there.

Fails when.
A conductor leads to the plus or the live terminal of a part, and no way goes on from there to what
gives current. All that is dead for one cause is told together, with what stands nearest to the
connection that is missing. A load to which nothing is drawn is a note, once most loads are fed; so
is a charger or converter that has a way out and none in. What sun, wind or an engine feeds and no
battery, shore or generator can is told too.

Passes when.
Something feeds it in some position of some switch, over a relay, a float switch, a converter or
another load that is in series.

Limits.
Every contact counts as closed, and what is in store as what it gives when it is aboard. While a
conductor that may be the feed is being traced it cannot be told. A plus on the negative belongs to
4.17.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.negatives import is_drawn
from model.analysis.unfed import (
    Batteryless,
    Unfed,
    fed_in_some_position,
    inlets,
    is_mostly_fed,
    unfed,
    without_battery,
)
from model.diagram import Component
from model.graph import TerminalGraph
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Missing, Rule
from rules.tracing import untraced
from rules.wording import named

Undrawn = tuple[str, ...]
Subject = Unfed | Batteryless | Undrawn


def _subjects(survey: Survey) -> Iterator[Subject]:
    """Yield what is dead for each cause, then what no battery feeds, then the loads to which
    nothing is drawn, each together.
    """
    dead = unfed(survey.graph)
    yield from dead
    batteryless = without_battery(survey.graph)
    if batteryless is not None and not untraced(survey.diagram):
        yield batteryless
    told = {item for one in dead for item in (one.head, *one.parts)}
    undrawn = tuple(in_order(item for item in _undrawn(survey) if item not in told))
    if undrawn and not untraced(survey.diagram) and is_mostly_fed(survey.graph):
        yield undrawn


RULE = Rule(
    slug="part_without_feed",
    number="4.25",
    title="Part that nothing feeds",
    topic="conductors",
    severity="caution",
    looks_at="what is dead for each cause, and the loads and converters to which nothing is drawn",
    subjects=_subjects,
    messages={
        "unled": "Nothing feeds {parts} in any position of the switches: nothing leads to {head}.",
        "backwards": "Nothing feeds {parts} in any position of the switches: {head} passes current "
                     "the other way only.",
        "no_battery": "No battery feeds {parts} in any position of the switches, only {sources}.",
        "undrawn": "Nothing is drawn that could feed {parts}.",
    },
    remedy="Draw the conductor that is missing, or fit it; what is not aboard comes off the "
           "drawing.",
    sources=("common_practice",),
    quiet={
        "begun": "no source of the drawing is connected to anything yet",
        "stored": "it is marked as stored",
        "spare": "the conductors at it are marked as spare",
        "series": "the current comes through another load",
        "at_rest": "what feeds it is in store",
        "half_drawn": "nothing is drawn to it yet, nor to most loads",
        "tracing": "nothing is drawn to it, and conductors are still being traced",
        "by_itself": "nothing is drawn to its plus, and it has its own battery, is portable or "
                     "hangs on a data cable",
        "senses": "it is a monitor, which its shunt may feed",
        "diversion": "it is a diversion load, which a source heats by itself",
    },
)


def check(subject: Subject, survey: Survey, profile: Profile) -> Answer:
    """Judge what is dead for one cause, what has no battery, or what nothing is drawn to."""
    if isinstance(subject, Batteryless):
        return Fault("no_battery", (*subject.parts, *subject.sources), {}, {
            "parts": named(survey.diagram, subject.parts),
            "sources": named(survey.diagram, subject.sources)})
    if not isinstance(subject, Unfed):
        return Fault("undrawn", subject, {}, {"parts": named(survey.diagram, subject)},
                     severity="note")
    wires = (wire for wire in survey.diagram.conductors.values()
             if _touches(wire.id, subject.nodes, survey))
    if all(wire.spare for wire in wires):
        return None
    where = tuple(dict.fromkeys((subject.head, *subject.parts)))
    lost = _may_feed(subject, survey)
    if lost:
        return Missing(lost, where)
    return Fault("backwards" if subject.backwards else "unled", where, {}, {
        "parts": named(survey.diagram, subject.parts),
        "head": named(survey.diagram, [subject.head])})


def _may_feed(dead: Unfed, survey: Survey) -> tuple[str, ...]:
    """Return the ends that are being traced by which it may be fed: its own, else live ones."""
    lost = untraced(survey.diagram)
    own = [wire for wire in lost if _touches(wire, dead.nodes, survey)]
    live = fed_in_some_position(survey.graph) if lost else set()
    return tuple(lost[wire] for wire in in_order(
        own or (wire for wire in lost if _touches(wire, live, survey))))


def _touches(wire: str, nodes: set[int] | frozenset[int], survey: Survey) -> bool:
    return any(edge.a in nodes and edge.core != "-" for edge in survey.graph.edges_of.get(wire, ()))


def _undrawn(survey: Survey) -> Iterator[str]:
    """Yield the loads at none of whose terminals anything is drawn but at the minus, and the
    chargers and converters that have a way out and none in.
    """
    graph = survey.graph
    for part in survey.diagram.components.values():
        if part.stored is True or _goes_without(part):
            continue
        role = graph.kinds[part.id].role
        if role == "load" and part.kind != "monitor" and not _drawn(graph, part.id):
            yield part.id
        if role == "converter" and (drawn := _drawn(graph, part.id)) and not any(
                node in inlet for inlet in inlets(graph, part) for node in drawn):
            yield part.id


def _drawn(graph: TerminalGraph, part: str) -> list[int]:
    """Return the terminals of a part but its minus at which a conductor ends."""
    return [node for node in graph.nodes_of(part)
            if is_drawn(graph, node) and not graph.names[node].endswith("-")]


def _goes_without(part: Component) -> bool:
    return True in (part.parameters.get("own_battery"), part.parameters.get("portable"))
