"""What it checks.
Where a contactor is the disconnect of a lithium bank: whether the hand switch breaks the supply of
its coil.

Why it matters.
A switch that only sends a wish to the electronics does nothing when the electronics are what burns.

Fails when.
The coil is fed from a battery by a way on which no hand switch stands, and no other switch worked
by hand parts the bank.

Passes when.
A hand switch stands in the coil's supply, or a battery switch besides parts the loads that the
contactor parts, or, where it parts none, the charging sources.

Limits.
A management unit is taken to pass its own supply on to the coil. Whether the coil has any supply
when it is needed belongs to 2.12.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.banks import is_main_switch
from model.analysis.charging import posts
from model.analysis.isolation_devices import by_hand
from model.analysis.management import driven, lithium_batteries, opened, unit_of
from model.analysis.reach import Passes, reach
from model.analysis.unswitched import unswitched
from model.diagram import Component
from model.graph import Edge, TerminalGraph
from model.survey import Survey
from rules.fixing import inserted
from rules.left_joined import all_joined
from rules.profiles import Profile
from rules.rewiring import NEAR_M, terminal_name
from rules.rule import Answer, Fault, Finding, Fix, Missing, Rule
from rules.wording import named


@dataclass(frozen=True, slots=True)
class Disconnect:
    """A contactor that parts a lithium battery from the boat, worked by a unit or by hand."""

    battery: Component
    contactor: str
    driven: frozenset[str]
    unit: Component


def _disconnects(survey: Survey) -> Iterator[Disconnect]:
    for battery in lithium_batteries(survey.diagram):
        unit = unit_of(survey.diagram, battery)
        if unit is not None:
            own = frozenset(driven(survey.diagram, unit))
            yield from (Disconnect(battery, item, own, unit) for item in sorted(own)
                        if survey.diagram.components[item].kind == "contactor")


RULE = Rule(
    slug="contactor_supply_not_in_series",
    number="6.11",
    title="Remote switch does not itself break the contactor's supply",
    topic="lithium",
    severity="fault",
    looks_at="each contactor that a management unit of a lithium battery works",
    subjects=_disconnects,
    messages={"direct": "The coil of {contactor} is fed with no hand switch in its supply, and no "
                        "other switch parts {battery}."},
    remedy="Put a hand switch in series with the supply of the coil.",
    sources=("abyc_e13_remote",),
    quiet={"mechanical": "a separate battery switch is worked by hand"},
    fix="sometimes",
)


def check(disconnect: Disconnect, survey: Survey, profile: Profile) -> Answer:
    """Judge one contactor."""
    graph = survey.graph
    if _is_parted_by_hand(disconnect, survey):
        return None
    coil = graph.number[f"{disconnect.contactor}.coil+"]
    where = (disconnect.contactor, disconnect.battery.id)
    if not any(graph.edges[i].role == "conductor" for i in graph.edges_at[coil]):
        return Missing((f"{disconnect.contactor}.coil_supply",), where)
    if not _is_fed(disconnect, coil, survey):
        return None
    return Fault("direct", where, {}, {
        "contactor": named(survey.diagram, [disconnect.contactor]),
        "battery": named(survey.diagram, [disconnect.battery.id])})


def _is_parted_by_hand(disconnect: Disconnect, survey: Survey) -> bool:
    """Say whether battery switches part from the battery the loads that the contactor parts, or,
    where it parts none, the sources.
    """
    graph, battery, unit = survey.graph, disconnect.battery, disconnect.unit
    bank = next(b for b in survey.banks if battery.id in b.batteries)
    switches = [item for item in unswitched(graph, bank).switches - disconnect.driven
                if is_main_switch(graph, item)]
    closed, parted, by_hand_parted = (
        all_joined(survey, battery, unit, opened(graph, dict.fromkeys(items, "")))
        for items in ((), (disconnect.contactor,), switches))
    loads = {*closed.loads}.difference(parted.loads)
    sources = {*closed.sources}.difference(parted.sources)
    return (loads or sources).isdisjoint((*by_hand_parted.loads, *by_hand_parted.sources))


def _is_fed(disconnect: Disconnect, coil: int, survey: Survey) -> bool:
    """Say whether a battery feeds the coil by a way without a hand switch."""
    graph, unit = survey.graph, disconnect.unit
    reached = reach(graph, [coil], _unswitched(graph))
    if graph.number[f"{unit.id}.trip"] in reached:
        reached |= reach(graph, [graph.number[f"{unit.id}.supply"]], _unswitched(graph))
    return bool(posts(graph).keys() & reached)


def _unswitched(graph: TerminalGraph) -> Passes:
    """Return the test of the ways on which no hand switch stands."""
    hands = {edge.owner for edge in graph.edges if edge.role == "contact" and by_hand(graph, edge)}
    return lambda edge, _: edge.role != "load" and edge.owner not in hands


def fixes(finding: Finding, survey: Survey, profile: Profile) -> Iterator[Fix]:
    """Offer a hand switch in the one conductor that feeds the coil, or the unit that passes its
    supply on to it.
    """
    graph, diagram = survey.graph, survey.diagram
    found = next(d for d in _disconnects(survey) if d.contactor == finding.where[0]
                 and d.battery.id == finding.where[1])
    fed = [(edge, node) for name in (f"{found.contactor}.coil+", f"{found.unit.id}.supply")
           for node in (graph.number[name],) for i in graph.edges_at[node]
           if (edge := graph.edges[i]).role == "conductor" and _feeds(graph, edge, node)]
    if len(fed) == 1:
        edge, node = fed[0]
        part = graph.component_of[node]
        title = (f"Fit a hand switch in {named(diagram, [edge.owner])}, the supply of "
                 f"{named(diagram, [part])}")
        yield Fix(title, "choice", inserted(diagram, title, edge.owner, terminal_name(graph, node),
                                            "load_switch", NEAR_M))


def _feeds(graph: TerminalGraph, edge: Edge, node: int) -> bool:
    """Say whether a battery is beyond a conductor, with no hand switch on the way."""
    passes = _unswitched(graph)
    return bool(posts(graph).keys() & reach(graph, [edge.other(node)], lambda other, at: (
        other.owner != edge.owner and passes(other, at))))
