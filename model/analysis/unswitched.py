"""What a bank reaches without passing a switch made to isolate it, by the conductor it leaves on.

Load switches and breakers that may be used as switches end the way too: a hand can open them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from model.analysis.banks import Bank, is_isolating, is_main_switch, loads_at, off_position
from model.analysis.coils import is_worked_by_hand_switch
from model.analysis.reach import Passes, came_from, reach
from model.graph import Edge, TerminalGraph

Closed = Callable[[Edge], bool]
BARS = ("panel", "fuse_block")
LINKS = ("emergency_link", "voltage_sensing_relay")
# Which field says that a hand opens it, for kinds of which that is not plain.
SAYS = {"contactor": "remote", "breaker": "switch_duty"}


@dataclass(frozen=True, slots=True)
class Unswitched:
    """Loads and panels reached, each with the conductor by which it parts from the ways to the near
    sides of the main switches; the switches met; and the conductors passed."""

    loads: Mapping[str, str]
    panels: Mapping[str, str]
    switches: frozenset[str]
    conductors: frozenset[str]


def unswitched(
    graph: TerminalGraph, bank: Bank, isolates: Closed | None = None, as_usual: bool = False
) -> Unswitched:
    """Return what a bank reaches without passing an edge that isolates.

    Automatic contacts count as closed, or stand as usual with `as_usual`. A converter that
    supplies loads is passed; one that charges another bank is not.
    """
    isolates = isolates or (lambda edge: is_isolating(graph, edge))
    loads: dict[str, int] = {}
    panels: dict[str, int] = {}
    switches: dict[str, int] = {}
    came: dict[int, Edge | None] = dict.fromkeys(posts(graph, bank))
    order = list(came)  # the nearest first: of a switch that is met from both sides the near one
    for node in order:
        part = graph.component_of[node]
        if graph.diagram.components[part].kind == "battery_bank" and part not in bank.batteries:
            continue
        if graph.diagram.components[part].kind in BARS:
            panels.setdefault(part, node)
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.role == "load" and edge.a == node:
                loads.setdefault(edge.owner, node)
            if isolates(edge):
                switches.setdefault(edge.owner, node)
            elif _passes(graph, edge, node, as_usual) and edge.other(node) not in came:
                came[edge.other(node)] = edge
                order.append(edge.other(node))
    to_switch = {wire for item, node in switches.items()
                 if has_main_switch(graph, frozenset({item})) for wire in _way(came, node)}
    return Unswitched(
        {item: _parting(_way(came, node), to_switch) for item, node in loads.items()},
        {item: _parting(_way(came, node), to_switch) for item, node in panels.items()},
        frozenset(switches),
        frozenset(e.owner for e in came.values() if e is not None and e.role == "conductor"))


def unsaid_switches(
    graph: TerminalGraph, bank: Bank, as_usual: bool = False
) -> tuple[list[str], frozenset[str]]:
    """Return the fields ("K9.remote") that settle what a hand can part from a bank, and the loads
    that it cannot, whatever those fields say.
    """
    unsaid = {c.id: field for c in graph.diagram.components.values()
              if (field := SAYS.get(c.kind, "")) and field not in c.parameters}
    found = unswitched(graph, bank, lambda edge: (
        is_isolating(graph, edge) or edge.owner in unsaid), as_usual)
    return ([f"{item}.{field}" for item, field in unsaid.items() if item in found.switches],
            frozenset(found.loads))


def common_conductors(
    graph: TerminalGraph, bank: Bank, loads: Iterable[str]
) -> list[tuple[str, int]]:
    """Return the conductors that alone lead from a bank to all these loads, the bank's end first,
    each with its terminal on that end. Switches that isolate and other batteries end the way.
    """
    wanted = set(loads)
    passes = _from_bank(graph, bank)
    came = came_from(graph, posts(graph, bank), passes)
    order = list(came)
    ends = [n for n in order for i in graph.edges_at[n]
            if graph.edges[i].role == "load" and graph.edges[i].owner in wanted]
    candidates = []
    node = ends[0] if ends else order[0]
    while (step := came[node]) is not None:
        node = step.other(node)
        if step.role == "conductor":
            candidates.append((step.owner, node))
    def left_without(wire: str) -> set[str]:
        left = reach(graph, posts(graph, bank), lambda e, n: e.owner != wire and passes(e, n))
        return set(loads_at(graph, left))

    return [(wire, at) for wire, at in reversed(candidates) if not wanted & left_without(wire)]


def _from_bank(graph: TerminalGraph, bank: Bank) -> Passes:
    others = {n for c in graph.diagram.components.values()
              if c.kind == "battery_bank" and c.id not in bank.batteries
              for n in graph.nodes_of(c.id)}
    return lambda edge, node: (node not in others and not is_isolating(graph, edge)
                               and _passes(graph, edge, node, False))


def _way(came: Mapping[int, Edge | None], node: int) -> list[str]:
    """Return the conductors from the bank to a node."""
    way = []
    while (edge := came[node]) is not None:
        if edge.role == "conductor":
            way.append(edge.owner)
        node = edge.other(node)
    return way[::-1]


def _parting(way: list[str], to_switch: set[str]) -> str:
    """Return the first conductor of a way that does not lead to a main switch too."""
    return next((wire for wire in way if wire not in to_switch), way[-1] if way else "")


def posts(graph: TerminalGraph, bank: Bank) -> list[int]:
    """Return the positive posts and taps of a bank's batteries."""
    names = [f"{battery}.+" for battery in bank.batteries]
    taps = [n for battery in bank.batteries for n in graph.nodes_of(battery)
            if ".tap_" in graph.names[n]]
    return [graph.number[name] for name in names] + taps


def _passes(graph: TerminalGraph, edge: Edge, node: int, as_usual: bool) -> bool:
    if edge.role in ("load", "source") or (edge.one_way and edge.a != node):
        return False
    if edge.role == "converter":
        return graph.diagram.components[edge.owner].kind == "dc_dc_converter"
    return not as_usual or graph.is_closed(edge, {})


def has_main_switch(graph: TerminalGraph, switches: frozenset[str]) -> bool:
    """Say whether one of the switches met is made to isolate a bank, not one circuit."""
    return any(
        is_main_switch(graph, item)
        or graph.diagram.components[item].kind in ("disconnector", "contactor")
        for item in switches)


def mains_open(graph: TerminalGraph) -> Mapping[str, str]:
    """Return the positions in which every main switch is off and all else as usual.

    A battery without a switch made for it is parted by what stands before most of its loads: a
    breaker, a disconnector, or a contactor that a hand switch works.
    """
    return graph.of_wiring("mains_open", lambda: {
        edge.handle: off_position(graph, edge) for edge in graph.edges
        if edge.handle is not None and edge.role in ("contact", "overcurrent")
        and (is_main_switch(graph, edge.owner) or edge.owner in _stand_ins(graph))
    })


def _stand_ins(graph: TerminalGraph) -> frozenset[str]:
    return graph.of_wiring("stand_ins", lambda: frozenset(
        item for part in graph.diagram.components.values() if part.kind == "battery_bank"
        for item in _stand_in(graph, Bank(part.id, (part.id,), frozenset()))))


def _stand_in(graph: TerminalGraph, bank: Bank) -> tuple[str, ...]:
    """Return what parts most loads from a battery that has no main switch, if anything does."""
    met = unswitched(graph, bank, lambda edge: (
        is_isolating(graph, edge) or is_worked_by_hand_switch(graph, edge))).switches
    if any(is_main_switch(graph, item) for item in met):
        return ()
    behind = {item: len(_loads_without(graph, bank, "") - _loads_without(graph, bank, item))
              for item in sorted(met)}
    most = max(behind.values(), default=0)
    return tuple(item for item, count in behind.items() if count == most > 1)[:1]


def _loads_without(graph: TerminalGraph, bank: Bank, left_out: str) -> set[str]:
    """Return what a battery alone feeds when all else is closed and one switch is open."""
    parts = graph.diagram.components

    def passes(edge: Edge, node: int) -> bool:
        here = parts[graph.component_of[node]]
        linked = edge.role == "contact" and parts[edge.owner].kind in LINKS
        return edge.owner != left_out and not linked and _passes(graph, edge, node, False) and (
            here.kind != "battery_bank" or here.id in bank.batteries)

    return set(loads_at(graph, reach(graph, posts(graph, bank), passes)))


def mains_at(
    graph: TerminalGraph, nodes: Iterable[int], positions: Mapping[str, str]
) -> tuple[str, ...]:
    """Return the main switches that part some terminals from the rest, by what is opened."""
    edges = (graph.edges[i] for node in nodes for i in graph.edges_at[node])
    return tuple(sorted({edge.owner for edge in edges if edge.handle in positions}))


def loads_behind_ways(graph: TerminalGraph, panel: str) -> frozenset[str]:
    """Return the loads fed by a panel's ways, its devices and all switches closed."""
    ways = [edge for edge in graph.edges_of.get(panel, ())
            if graph.names[edge.a].endswith(".bus+")]
    seen = {edge.a for edge in ways} | {edge.b for edge in ways}
    stack, found = [edge.b for edge in ways], set()
    while stack:
        node = stack.pop()
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.role == "load":
                found.add(edge.owner)
            elif edge.role not in ("source", "converter") and edge.other(node) not in seen and (
                    edge.owner != panel):
                seen.add(edge.other(node))
                stack.append(edge.other(node))
    return frozenset(found)
