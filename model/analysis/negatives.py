"""The negative side: what hangs on it, and what is cut off where it can be opened.

Drawn returns are followed as drawn. Where returns are implied, a device that opens the negative
alone in a line of one core stands in the mirror of that line: it cuts what the line feeds.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Set
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from model.analysis.banks import Bank, is_isolating, is_main_switch, loads_at
from model.analysis.isolation_devices import by_hand
from model.analysis.reach import (
    Passes,
    always_closed,
    follow,
    onward,
    reach,
    stiff_passes,
)
from model.analysis.systems import systems_of
from model.analysis.unswitched import BARS, has_main_switch, loads_behind_ways, unswitched
from model.graph import Edge, TerminalGraph

if TYPE_CHECKING:
    from model.survey import Survey

Earthing = Literal["negative_earthed", "insulated"]


@dataclass(frozen=True, slots=True)
class NegativeCut:
    """A device that opens a negative and no positive: the loads and batteries it cuts off.

    `switch` says that a hand opens it; `mirrored` that it stands in an implied return.
    """

    part: str
    loads: tuple[str, ...]
    batteries: tuple[str, ...]
    switch: bool
    mirrored: bool


def negative_passes(edge: Edge, _node: int) -> bool:
    """Pass what joins negatives: conductors of that core, joins, closed contacts and devices."""
    if edge.role == "conductor":
        return edge.core == "-"
    return edge.role in ("join", "contact", "overcurrent")


def negative_reach(
    graph: TerminalGraph, starts: Iterable[int], without: Iterable[str] = ()
) -> set[int]:
    """Return the terminals joined to some by negatives, without some parts or conductors."""
    left_out = set(without)
    return reach(graph, starts, lambda edge, node: (
        edge.owner not in left_out and negative_passes(edge, node)))


def converter_minuses(graph: TerminalGraph) -> Mapping[int, int]:
    """Return the converter's own minus for each minus of an isolated output."""
    return graph.of_wiring("converter minuses", lambda: {
        graph.number[f"{item}.out-"]: graph.number[f"{item}.-"]
        for item in graph.diagram.components
        if f"{item}.out-" in graph.number and f"{item}.-" in graph.number})


def over_converters(
    found: Set[int], joined: Callable[[Iterable[int]], Set[int]], onward: Mapping[int, int]
) -> Set[int]:
    """Return some terminals that are joined and what is joined to them going on from each that is
    in `onward` at what it leads to: homeward from the minus of an isolated output to that of its
    converter, or outward.
    """
    while beyond := {onward[node] for node in found & onward.keys()} - found:
        found = found | joined(beyond)
    return found


def joined_home(graph: TerminalGraph, name: Hashable, passes: Passes, minus: int) -> Set[int]:
    """Return what a minus is joined to over edges that pass, on over isolated converters: the same
    for all that is joined to it. The name must tell what that of `onward` must.
    """
    known: dict[int, Set[int]] = graph.of_wiring(("joined home", name), dict)
    if minus not in known:
        ways = onward(graph, name, passes)
        own = follow(ways, [minus])
        known.update(dict.fromkeys(own, over_converters(
            own, lambda at: follow(ways, at), converter_minuses(graph))))
    return known[minus]


def is_drawn(graph: TerminalGraph, node: int) -> bool:
    """Say whether a conductor ends at a terminal."""
    return any(graph.edges[i].role == "conductor" for i in graph.edges_at[node])


def returns_at(graph: TerminalGraph, nodes: Iterable[int]) -> list[str]:
    """Return the loads whose minus is among these terminals, those behind a panel's bar too."""
    found: set[str] = set()
    for node in nodes:
        part = graph.component_of[node]
        if graph.diagram.components[part].kind in BARS:
            found |= loads_behind_ways(graph, part)
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.role == "load" and edge.b == node:
                found.add(edge.owner)
    return sorted(found)


def minus_posts(graph: TerminalGraph, nodes: Iterable[int]) -> list[str]:
    """Return the batteries whose minus is among these terminals."""
    return sorted({graph.component_of[n] for n in nodes
                   if graph.names[n] == f"{graph.component_of[n]}.-" and graph.diagram.components[
                       graph.component_of[n]].kind == "battery_bank"})


def negative_cuts(graph: TerminalGraph) -> tuple[NegativeCut, ...]:
    """Return what every device that opens a negative alone cuts off."""
    return tuple(cut for part in _openers(graph) if (cut := _cut(graph, part)) is not None)


def _openers(graph: TerminalGraph) -> Iterator[str]:
    for component in graph.diagram.components.values():
        opened = [e for e in graph.edges_of.get(component.id, ())
                  if e.role in ("contact", "overcurrent")]
        if opened and all(graph.names[e.a].endswith("-") for e in opened):
            yield component.id


def _cut(graph: TerminalGraph, part: str) -> NegativeCut | None:
    edge = next(e for e in graph.edges_of[part] if e.role in ("contact", "overcurrent"))
    switch = edge.role == "contact" and by_hand(graph, edge)
    if not is_drawn(graph, edge.a) or not is_drawn(graph, edge.b):
        return _mirrored(graph, part, switch)
    sides = [negative_reach(graph, [node], [part]) for node in (edge.a, edge.b)]
    if edge.b in sides[0]:
        return None
    loads = [returns_at(graph, side) for side in sides]
    batteries = [minus_posts(graph, side) for side in sides]
    fed = [i for i in (0, 1) if batteries[i]]
    if len(fed) > 1:
        own = min(fed, key=lambda i: len(loads[i]))
        return NegativeCut(part, tuple(loads[own]), tuple(batteries[own]), switch, False)
    if not fed:
        return None
    own, beyond = fed[0], loads[1 - fed[0]]
    cuts_bank = not beyond or (is_main_switch(graph, part) and not loads[own])
    return NegativeCut(
        part, tuple(beyond), tuple(batteries[own]) if cuts_bank else (), switch, False)


def _mirrored(graph: TerminalGraph, part: str, switch: bool) -> NegativeCut | None:
    posts = [graph.number[f"{c.id}.+"] for c in graph.diagram.components.values()
             if c.kind == "battery_bank"]
    usual = stiff_passes(graph, {})
    fed = reach(graph, posts, usual)
    kept = reach(graph, posts, lambda e, n: e.owner != part and usual(e, n))
    loads = loads_at(graph, fed - kept)
    if not loads:
        return None
    near = {n for n in graph.nodes_of(part) if n in kept}
    plain = reach(graph, near, lambda e, _: e.owner != part and (
        e.role in ("conductor", "join", "overcurrent")))
    batteries = {graph.component_of[n] for n in plain if n in posts}
    return NegativeCut(part, tuple(loads),
                       tuple(sorted(batteries)) if is_main_switch(graph, part) else (),
                       switch, True)


def sole_disconnect_of(survey: Survey, cut: NegativeCut) -> tuple[str, ...]:
    """Return the batteries or loads that nothing but a switch in the negative can part by hand."""
    graph = survey.graph
    if not cut.switch:
        return ()
    if cut.batteries:
        own = [bank for bank in survey.banks if set(bank.batteries) & set(cut.batteries)]
        return tuple(battery for bank in own if _lacks_switch(graph, bank)
                     for battery in bank.batteries)
    posts = [graph.number[f"{c.id}.+"] for c in graph.diagram.components.values()
             if c.kind == "battery_bank"]
    live = reach(graph, posts, lambda e, n: always_closed(e, n) and not _parts_load(graph, e))
    return tuple(item for item in loads_at(graph, live) if item in cut.loads)


def _lacks_switch(graph: TerminalGraph, bank: Bank) -> bool:
    reached = unswitched(graph, bank)
    return bool(reached.loads) and not has_main_switch(graph, reached.switches)


def _parts_load(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether a hand parts a load here: a switch of its own, or a breaker."""
    if edge.role == "overcurrent":
        kind = graph.diagram.components[edge.owner].kind
        return kind == "breaker" or edge.device.get("device") in ("breaker", "fuse_and_switch")
    return edge.role == "contact" and is_isolating(graph, edge) and (
        not is_main_switch(graph, edge.owner))


def earthing(survey: Survey, part: str) -> tuple[Earthing | None, str]:
    """Return how the system a part belongs to is earthed, None when not stated, and its id.

    The system is that of the part's nominal volts; without one, the first.
    """
    volts = {survey.potentials[n].nominal_v for n in survey.graph.nodes_of(part)}
    systems = list(survey.diagram.systems.values())
    own = systems_of(survey.diagram, volts) or systems
    unsaid = next((s for s in own if s.earthing is None), None)
    if unsaid is not None:
        return None, unsaid.id
    earthed = next((s for s in own if s.earthing == "negative_earthed"), None)
    if earthed is not None:
        return "negative_earthed", earthed.id
    return ("insulated", own[0].id) if own else ("negative_earthed", "")
