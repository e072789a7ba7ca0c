"""What charges what: the outputs of charging sources, the batteries they reach as the boat is lived
in, and the regulator that has the say over an alternator.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from model.analysis.reach import (
    came_from,
    closed_towards,
    follow,
    onward_in,
    standing,
    stiff_passes,
    way_back,
)
from model.analysis.usual_states import usual_states
from model.diagram import Component, Diagram
from model.graph import Edge, TerminalGraph
from model.kinds.conversion import charging_kinds
from model.kinds.storage import LITHIUM

MACHINES = ("alternator", "wind_generator")
FROM_AC = ("shore_charger", "inverter_charger")


@dataclass(frozen=True, slots=True)
class Outlet:
    """A terminal at which a charging source gives direct current."""

    source: str
    node: int


def outlets(graph: TerminalGraph) -> tuple[Outlet, ...]:
    """Return the outputs of alternators, wind generators, chargers and controllers in service."""
    return graph.of_wiring("outlets", lambda: tuple(_outlets(graph)))


def _outlets(graph: TerminalGraph) -> Iterator[Outlet]:
    for part in graph.diagram.components.values():
        if part.stored is True:
            continue
        if part.kind in MACHINES:
            yield Outlet(part.id, graph.number[f"{part.id}.+"])
        elif part.kind in charging_kinds():
            for edge in graph.edges_of[part.id]:
                if edge.role == "converter" and graph.names[edge.b].endswith("+"):
                    yield Outlet(part.id, edge.b)


def charged(graph: TerminalGraph, node: int, over_relays: bool = True) -> frozenset[str]:
    """Return the batteries that a terminal charges in some usual state, as switches then stand,
    and with each selector turned to either bank.

    A relay that volts work counts as closed, or as open with `over_relays` False.
    """
    return graph.of_wiring(f"charged {node} {over_relays}", lambda: frozenset(
        battery for state in usual_states(graph.diagram)
        for positions in selected(graph, state.positions)
        for battery in charged_in(graph, node, positions, over_relays)
        if battery not in state.absent))


def selected(
    graph: TerminalGraph, positions: Mapping[str, str]
) -> Iterator[Mapping[str, str]]:
    """Yield a state of the switches, then the same with each selector at each bank alone."""
    yield positions
    for part in graph.diagram.components.values():
        if part.kind == "selector_switch":
            yield from ({**positions, part.id: bank} for bank in ("1", "2"))


def charged_in(
    graph: TerminalGraph, node: int, positions: Mapping[str, str], over_relays: bool = True
) -> frozenset[str]:
    """Return the same for one state of the switches."""
    return frozenset(battery for battery, chargers in _chargers(graph, positions, over_relays)
                     if node in chargers)


def _chargers(
    graph: TerminalGraph, positions: Mapping[str, str], over_relays: bool
) -> tuple[tuple[str, set[int]], ...]:
    """Return each battery with the terminals that charge it; there are fewer posts than outlets."""
    def made() -> tuple[tuple[str, set[int]], ...]:
        back = onward_in(graph, positions, ("charges", over_relays), lambda edge, at: (
            closed_towards(edge, at) and (over_relays or not by_volts(graph, edge))))
        return tuple((battery, follow(back, [post])) for post, battery in posts(graph).items())

    return graph.of_wiring(("chargers", standing(positions), over_relays), made)


def charging_way(
    graph: TerminalGraph, node: int, goals: Iterable[str]
) -> tuple[Edge, ...]:
    """Return the shortest way from a terminal to the post of one of some batteries, as things
    usually stand, else with a selector turned to a bank; nothing when there is none.
    """
    wanted = set(goals)
    for positions in selected(graph, {}):
        came = came_from(graph, [node], stiff_passes(graph, positions))
        ways = [way_back(came, n) for n, battery in posts(graph).items()
                if battery in wanted and n in came]
        if ways:
            return min(ways, key=len)
    return ()


def nearest_charged(graph: TerminalGraph, node: int) -> tuple[str, tuple[Edge, ...]]:
    """Return the battery that a terminal charges by the shortest way as switches usually stand, no
    relay between, with that way; "" when there is none.
    """
    goals = charged_in(graph, node, {}, over_relays=False)
    way = charging_way(graph, node, goals)
    ends = {end for edge in way[-1:] for end in (edge.a, edge.b)}
    return next(((battery, way) for n, battery in posts(graph).items()
                 if n in ends and battery in goals), ("", ()))


def behind_diode(graph: TerminalGraph, node: int, battery: str) -> bool:
    """Say whether a diode that takes volts stands between an output and a battery."""
    lossy = graph.once("splitters that take volts", lambda: frozenset(
        c.id for c in graph.diagram.components.values()
        if c.kind == "diode_isolator" and c.parameters.get("type") != "transistor"))
    return bool(lossy) and any(
        edge.owner in lossy for edge in charging_way(graph, node, [battery]))


def posts(graph: TerminalGraph) -> Mapping[int, str]:
    """Return the positive posts of the batteries that are in service."""
    return graph.of_wiring("posts in service", lambda: {
        graph.number[f"{c.id}.+"]: c.id for c in graph.diagram.components.values()
        if c.kind == "battery_bank" and c.stored is not True})


def by_volts(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether an edge is the contact of a relay that volts work."""
    return edge.role == "contact" and (
        graph.diagram.components[edge.owner].kind == "voltage_sensing_relay")


def regulator_of(diagram: Diagram, alternator: Component) -> Component | None:
    """Return the external regulator of an alternator, None when none is drawn."""
    named = diagram.components.get(alternator.parameters.get("regulator", ""))
    if named is not None:
        return named
    return next((part for part in diagram.components.values() if part.kind == "regulator"
                 and part.parameters.get("regulates") == alternator.id), None)


def works_by_signal(graph: TerminalGraph, part: Component) -> bool:
    """Say whether a part is a DC-DC charger that a wired signal of the running engine works."""
    return part.kind == "dc_dc_charger" and (
        graph.number[f"{part.id}.run"] not in graph.bare
        or part.parameters.get("run_signal") == "wired")


def is_lithium(battery: Component) -> bool | None:
    """Say whether a battery is of lithium; None when its chemistry is not stated."""
    chemistry = battery.parameters.get("chemistry")
    return None if chemistry is None else chemistry in LITHIUM
