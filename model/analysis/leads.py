"""Leads: where a conductor first becomes live from a battery without a device before it.

A lead begins at a battery's post (links inside a bank are passed) or on the starter circuit, which
needs no device of its own. From there it is followed, with its branches, to the first overcurrent
device or to whatever is reached without one. Ways over an emergency link are not followed: it is
exempt, and what lies behind it belongs to its own bank.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from model.analysis.protection import is_positive_core
from model.analysis.reach import always_closed, source_nodes
from model.analysis.served import Served, served
from model.analysis.starter import is_emergency_link
from model.diagram import Conductor
from model.graph import Edge, TerminalGraph

EndKind = Literal[
    "device", "load", "converter", "charger", "alternator", "bus", "battery", "diode"]
OTHER_PURPOSES = frozenset({"sense", "data", "bonding", "case_ground", "lightning"})


@dataclass(frozen=True, slots=True)
class LeadEnd:
    """Where a branch of a lead ends: at what, and the conductors to there from the battery.

    `length_m` counts conductors in series; those of unknown length, named in `missing`, count
    nothing. `sheathed` is None when that is not stated for those named in `unsaid`. `item` is what
    a finding names, `relays` the automatic contacts on the way, `behind` what a device leads on to.
    """

    kind: EndKind
    item: str
    length_m: float
    missing: tuple[str, ...]
    sheathed: bool | None
    unsaid: tuple[str, ...]
    conductors: tuple[str, ...]
    relays: tuple[str, ...] = ()
    behind: Served = field(default_factory=Served)
    rated_a: float | None = None


@dataclass(frozen=True, slots=True)
class Lead:
    """A conductor core that leaves a battery's post or its starter circuit, and its branches."""

    conductor: str
    edge: int
    node: int
    batteries: tuple[str, ...]
    from_starter: bool
    ends: tuple[LeadEnd, ...]

    @property
    def serves(self) -> Served:
        """Return all that is reached by the lead, behind its devices too."""
        whole = Served()
        for end in self.ends:
            own = Served(**{_PLURAL[end.kind]: frozenset({end.item})}) if (
                end.kind in _PLURAL) else Served()
            whole = whole | end.behind | own
        return whole


_PLURAL = {"load": "loads", "converter": "converters", "charger": "chargers",
           "alternator": "alternators", "battery": "batteries"}


def is_power(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether a core carries power: not a sense, data or bonding wire."""
    if not is_positive_core(edge):
        return False
    return graph.diagram.conductors[edge.owner].purpose not in OTHER_PURPOSES


def is_covered(wire: Conductor) -> bool | None:
    """Say whether a conductor is sheathed or enclosed for its whole length; None when not said."""
    if wire.in_enclosure:
        return True
    return None if wire.sheath is None else wire.sheath == "whole"


def straight_end(wire: Conductor, bus: str) -> LeadEnd:
    """Return the end at a bus of one conductor that goes straight there."""
    length_m = wire.length_m
    return LeadEnd("bus", bus, 0.0 if length_m is None else length_m,
                   (wire.id,) if length_m is None else (), is_covered(wire), (wire.id,),
                   (wire.id,))


def zones(graph: TerminalGraph, starter: frozenset[str]) -> Mapping[str, Zone]:
    """Return the zone of every battery."""
    return {c.id: Zone(graph, c.id, starter) for c in graph.diagram.components.values()
            if c.kind == "battery_bank"}


def posts_of(zones: Mapping[str, Zone]) -> Mapping[int, str]:
    """Return the battery whose post or starter circuit each node belongs to."""
    return {node: battery for battery, zone in zones.items() for node in zone.nodes}


def leads(
    graph: TerminalGraph, starter: frozenset[str], zones: Mapping[str, Zone]
) -> tuple[Lead, ...]:
    """Return the leads of every battery, those that several batteries share only once."""
    found: dict[tuple[int, int], list[str]] = {}
    straight: set[tuple[int, int]] = set()
    for battery, zone in zones.items():
        for edge, node in zone.leaving():
            found.setdefault((edge.index, node), []).append(battery)
            if node in zone.posts:
                straight.add((edge.index, node))
    return tuple(
        Lead(graph.edges[index].owner, index, node, tuple(batteries),
             (index, node) not in straight,
             ends_of(graph, starter, zones, graph.edges[index], node, tuple(batteries)))
        for (index, node), batteries in found.items()
    )


def ends_of(
    graph: TerminalGraph, starter: frozenset[str], zones: Mapping[str, Zone], edge: Edge,
    node: int, batteries: tuple[str, ...],
) -> tuple[LeadEnd, ...]:
    """Return where the branches of a conductor end, going into it from one of its nodes.

    `batteries` are those whose own posts and starter circuits end the walk without a word.
    """
    own = {battery: zones[battery] for battery in batteries}
    others = {battery: zone for battery, zone in zones.items() if battery not in own}
    return tuple(_LeadWalk(graph, starter, own, others).ends(edge, node))


class Zone:
    """What needs no device: a battery's posts with the links of its bank, and starter circuits."""

    def __init__(self, graph: TerminalGraph, battery: str, starter: frozenset[str]) -> None:
        self.graph = graph
        self._starter = starter
        starts = set(source_nodes(graph, battery))
        self.posts = self._spread(starts, by_starter=False)
        self.nodes = self._spread(set(self.posts), by_starter=True)

    def _spread(self, seen: set[int], by_starter: bool) -> set[int]:
        stack = list(seen)
        while stack:
            node = stack.pop()
            for number in self.graph.edges_at[node]:
                edge = self.graph.edges[number]
                if self._passes(edge, by_starter):
                    after = edge.other(node)
                    if after not in seen:
                        seen.add(after)
                        stack.append(after)
        return seen

    def _passes(self, edge: Edge, by_starter: bool) -> bool:
        if edge.role == "join":
            return True
        if edge.role == "contact":
            return not is_emergency_link(self.graph, edge.owner)
        return edge.role == "conductor" and self.exempts(edge, by_starter)

    def exempts(self, edge: Edge, by_starter: bool = True) -> bool:
        """Say whether a conductor core needs no device here."""
        wire = self.graph.diagram.conductors[edge.owner]
        return wire.purpose == "bank_link" or (by_starter and wire.id in self._starter)

    def leaving(self) -> Iterator[tuple[Edge, int]]:
        """Yield the power cores that leave the zone, with the node they leave it at."""
        for node in sorted(self.nodes):
            for number in self.graph.edges_at[node]:
                edge = self.graph.edges[number]
                if is_power(self.graph, edge) and not self.exempts(edge) and (
                        edge.other(node) not in self.nodes):
                    yield edge, node


@dataclass(frozen=True, slots=True)
class _Run:
    """The conductors walked so far."""

    length_m: float = 0.0
    missing: tuple[str, ...] = ()
    sheathed: bool | None = True
    unknown: tuple[str, ...] = ()
    conductors: tuple[str, ...] = ()
    relays: tuple[str, ...] = ()


class _LeadWalk:
    """The walk of one lead with its branches."""

    def __init__(self, graph: TerminalGraph, starter: frozenset[str],
                 own: Mapping[str, Zone], others: Mapping[str, Zone]) -> None:
        self.graph = graph
        self._starter = starter
        self._own = own
        self._others = others
        self._posts = posts_of({**own, **others})

    def ends(self, edge: Edge, node: int) -> list[LeadEnd]:
        """Return the ends of the lead that begins with an edge at a node."""
        start = edge.other(node)
        found: list[LeadEnd] = []
        named: set[str] = set()
        seen = {node, start}
        stack = [(start, edge, self._extended(_Run(), edge, start))]
        while stack:
            here, came, run = stack.pop()
            for end in self._ends_at(here, came, run):
                if end.item not in named:
                    named.add(end.item)
                    found.append(end)
            if self._battery_at(here) or any(here in zone.nodes for zone in self._own.values()):
                continue
            for step in self._steps(here, came):
                after = step.other(here)
                if after not in seen:
                    seen.add(after)
                    stack.append((after, step, self._onward(run, step, after)))
        return found

    def _steps(self, here: int, came: Edge) -> Iterator[Edge]:
        for number in self.graph.edges_at[here]:
            edge = self.graph.edges[number]
            if number == came.index or edge.role == "overcurrent":
                continue
            if not always_closed(edge, here):
                continue
            if edge.role == "conductor" and (
                    edge.owner in self._starter or not is_power(self.graph, edge)):
                continue
            if edge.role == "contact" and is_emergency_link(self.graph, edge.owner):
                continue
            yield edge

    def _onward(self, run: _Run, step: Edge, after: int) -> _Run:
        if step.role == "conductor":
            return self._extended(run, step, after)
        if step.role == "contact" and not self._is_manual(step):
            return replace(run, relays=(*run.relays, step.owner))
        return run

    def _is_manual(self, edge: Edge) -> bool:
        part = self.graph.diagram.components[edge.owner]
        return all(h.manual for h in self.graph.kinds[edge.owner].handles(part.parameters))

    def _extended(self, run: _Run, edge: Edge, after: int) -> _Run:
        wire = self.graph.diagram.conductors[edge.owner]
        conductors = (*run.conductors, wire.id)
        if self._on_post(after):
            return replace(run, conductors=conductors)
        whole = is_covered(wire)
        sheathed = False if False in (run.sheathed, whole) else (
            None if None in (run.sheathed, whole) else True)
        return _Run(
            round(run.length_m + (wire.length_m or 0.0), 6),
            run.missing if wire.length_m is not None else (*run.missing, wire.id),
            sheathed, run.unknown if whole is not None else (*run.unknown, wire.id), conductors,
            run.relays)

    def _on_post(self, node: int) -> bool:
        """Say whether a device bolted on the battery's post begins at a node."""
        device = next((self.graph.edges[i] for i in self.graph.edges_at[node]
                       if self.graph.edges[i].role == "overcurrent"), None)
        if device is None:
            return False
        mounted = self.graph.diagram.components[device.owner].mounted_on
        return device.device.get("on_post") is True or mounted in self._own

    def _battery_at(self, node: int) -> str | None:
        """Return the other battery whose post or starter circuit a node belongs to."""
        return next((b for b, zone in self._others.items() if node in zone.nodes), None)

    def _ends_at(self, here: int, came: Edge, run: _Run) -> Iterator[LeadEnd]:
        graph = self.graph
        battery = self._battery_at(here)
        if battery is not None:
            yield self._end("battery", battery, run)
            return
        part = graph.component_of[here]
        kind = graph.kinds[part]
        if kind.source is not None and kind.source.kind != "battery" and came.role == "conductor":
            yield self._end("alternator" if kind.source.kind == "alternator" else "charger",
                            part, run)
        bus_joined = any(graph.edges[i].role == "join" for i in graph.edges_at[here])
        if kind.role == "distribution" and kind.slug != "stud" and (
                bus_joined or not self._has_device(here)):
            yield self._end("bus", part, run)
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            if edge.role == "overcurrent":
                yield self._device(edge, here, run)
            elif edge.role == "load":
                yield self._end("load", edge.owner, run)
            elif edge.role == "converter":
                yield self._end("converter" if edge.a == here else "charger", edge.owner, run)
            elif edge.role == "diode" and edge.b == here:
                yield self._end("diode", edge.owner, run)

    def _has_device(self, node: int) -> bool:
        return any(self.graph.edges[i].role == "overcurrent" for i in self.graph.edges_at[node])

    def _device(self, edge: Edge, here: int, run: _Run) -> LeadEnd:
        behind = served(self.graph, edge, edge.other(here), self._posts)
        return LeadEnd("device", edge.item, run.length_m, run.missing, run.sheathed, run.unknown,
                       run.conductors, run.relays, behind, edge.device.get("rated_a"))

    def _end(self, kind: EndKind, item: str, run: _Run) -> LeadEnd:
        return LeadEnd(kind, item, run.length_m, run.missing, run.sheathed, run.unknown,
                       run.conductors, run.relays)
