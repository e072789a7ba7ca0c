"""Ways into a conductor: what is met going in from one of its ends, branch by branch.

A way ends at the first overcurrent device, or where there is none: at a load, a converter, a
battery, a bus. Switches and single joints are passed; their own length is nothing.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import dataclass

from model.analysis.protection import is_positive_core
from model.graph import Edge, TerminalGraph

MOST_WAYS = 200


@dataclass(frozen=True, slots=True)
class Way:
    """One way in. `device` is the edge of the device that ends it, None when none does.

    `length_m` adds the conductors in series [m]; those without a length are in `missing`, and the
    length is then what is known. `sheathed` is True only when all of it is, None when unstated.
    A device bolted on the post counts as no length.
    """

    conductors: tuple[str, ...]
    length_m: float
    missing: tuple[str, ...]
    sheathed: bool | None
    device: Edge | None
    stops_at: str
    unsaid: tuple[str, ...] = ()


def ways_in(
    graph: TerminalGraph, edge: Edge, node: int, exempt: Container[str] = ()
) -> list[Way]:
    """Return every way from a conductor's end inward, not through exempt conductors."""
    found = []
    for way in _walk(graph, edge, node, exempt, (), frozenset({node})):
        found.append(way)
        if len(found) >= MOST_WAYS:
            break
    return found


def _walk(
    graph: TerminalGraph, edge: Edge, node: int, exempt: Container[str],
    before: tuple[str, ...], seen: frozenset[int],
) -> Iterator[Way]:
    conductors = (*before, edge.owner)
    joined, exits, devices, ends = _around(graph, edge.other(node), edge, exempt, seen)
    for device in devices:
        yield _way(graph, conductors, device, device.owner)
    for stop in ends:
        yield _way(graph, conductors, None, stop)
    for here, after in exits:
        if after.other(here) not in joined:
            yield from _walk(graph, after, here, exempt, conductors, joined)
    if not devices and not ends and not exits:
        yield _way(graph, conductors, None, graph.component_of[edge.other(node)])


def _around(
    graph: TerminalGraph, start: int, came: Edge, exempt: Container[str], seen: frozenset[int]
) -> tuple[frozenset[int], list[tuple[int, Edge]], list[Edge], list[str]]:
    """Return what meets where a conductor ends: joined terminals, conductors, devices, ends."""
    joined, stack = {start}, [start]
    exits: list[tuple[int, Edge]] = []
    devices: list[Edge] = []
    ends: list[str] = []
    while stack:
        here = stack.pop()
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            if number == came.index or edge.owner in exempt:
                continue
            if is_positive_core(edge):
                exits.append((here, edge))
            elif edge.role == "overcurrent":
                devices.append(edge)
            elif edge.role in ("join", "contact") or (edge.role == "diode" and edge.a == here):
                after = edge.other(here)
                if after not in joined and after not in seen:
                    joined.add(after)
                    stack.append(after)
            elif edge.role in ("load", "source", "converter", "diode"):
                ends.append(edge.owner)
    return seen | joined, exits, devices, list(dict.fromkeys(ends))


def _way(
    graph: TerminalGraph, conductors: tuple[str, ...], device: Edge | None, stops_at: str
) -> Way:
    wires = [graph.diagram.conductors[item] for item in conductors]
    if device is not None and device.device.get("on_post") is True:
        wires = wires[:-1]
    missing = tuple(wire.id for wire in wires if wire.length_m is None)
    sheaths = [True if wire.in_enclosure else None if wire.sheath is None
               else wire.sheath == "whole" for wire in wires]
    sheathed: bool | None = True
    if False in sheaths:
        sheathed = False
    elif None in sheaths:
        sheathed = None
    unsaid = tuple(wire.id for wire, sheath in zip(wires, sheaths, strict=True) if sheath is None)
    length = round(sum(wire.length_m or 0.0 for wire in wires), 6)
    return Way(conductors, length, missing, sheathed, device, stops_at, unsaid)


def series_from(graph: TerminalGraph, node: int) -> tuple[list[str], str]:
    """Return the conductors in series from a terminal up to a branch, device or end, and where.

    Contacts and joints of two conductors are passed.
    """
    conductors: list[str] = []
    came = -1
    while True:
        exits, stop, passed = _one_way_on(graph, node, came)
        if stop or len(exits) != 1:
            return conductors, stop or graph.component_of[node]
        here, edge = exits[0]
        if edge.owner in conductors:
            return conductors, graph.component_of[here]
        conductors.append(edge.owner)
        came, node = edge.index, edge.other(here)


def _one_way_on(
    graph: TerminalGraph, node: int, came: int
) -> tuple[list[tuple[int, Edge]], str, set[int]]:
    seen, stack = {node}, [node]
    exits: list[tuple[int, Edge]] = []
    stop = ""
    while stack:
        here = stack.pop()
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            if number == came:
                continue
            if is_positive_core(edge):
                exits.append((here, edge))
            elif edge.role in ("join", "contact"):
                after = edge.other(here)
                if after not in seen:
                    seen.add(after)
                    stack.append(after)
            elif came >= 0:
                stop = edge.owner
    return exits, stop, seen


def branch_count(graph: TerminalGraph, node: int) -> int:
    """Return how many DC cores and devices meet at a terminal, its joined ones included."""
    seen, stack, found = {node}, [node], 0
    while stack:
        here = stack.pop()
        for number in graph.edges_at[here]:
            edge = graph.edges[number]
            if is_positive_core(edge) or edge.role == "overcurrent":
                found += 1
            elif edge.role == "join":
                after = edge.other(here)
                if after not in seen:
                    seen.add(after)
                    stack.append(after)
    return found
