"""How to make something dead: all least sets of devices that part it from every source.

A minimum hitting set over devices: find a live path from any source to the target, demand that
one device on it is used, solve, and repeat until no live path is left. Switches stand as usual
otherwise, and every source gives: batteries, sun, wind, engines, shore power, generating sets.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass

from model.analysis.banks import loads_at
from model.analysis.hitting_sets import least_hitting_sets
from model.analysis.isolation_devices import Devices
from model.analysis.reach import Passes, reach, source_nodes
from model.errors import NotDrawn
from model.graph import Edge, TerminalGraph
from model.kinds import port_of

MOST_SETS = 20


@dataclass(frozen=True, slots=True)
class Isolation:
    """The least sets by device id; `has_more` when they were too many to list.

    First stands the one that leaves no machine running without its battery, leaves most loads
    live, and stops sources rather than opening switches.

    When sources reach the target without any device between, `unavoidable` names them, and the
    sets are what remains to be done beside them: by themselves they do not make it dead.
    `parts` tells for each set which running alternators and wind generators it would part from
    every battery.
    """

    target: str
    sets: tuple[tuple[str, ...], ...]
    weight: int
    has_more: bool = False
    unavoidable: tuple[str, ...] = ()
    parts: tuple[tuple[str, ...], ...] = ()


def isolation(graph: TerminalGraph, target: str, devices: Devices | None = None) -> Isolation:
    """Return how to make a component, a conductor or a panel's way dead.

    Raise NotDrawn for a target that is not drawn. A battery's own posts cannot be made
    dead; the answer is then about all other sources.
    """
    devices = devices or Devices(graph)
    goal = frozenset(target_nodes(graph, target))
    sources = [s for s in devices.sources
               if not (s == target and graph.diagram.components[s].kind == "battery_bank")]
    network = LivePaths(devices, goal)
    unavoidable = tuple(s for s in sources
                        if s not in devices.stopping and network.without_device(s))
    others = [s for s in sources if s not in unavoidable]
    found, has_more = least_hitting_sets(
        devices.weights, lambda chosen: network.missed(others, chosen), MOST_SETS)
    parted = {chosen: parted_sources(devices, chosen) for chosen in found}
    ordered = sorted(found, key=lambda chosen: (
        len(parted[chosen]), -_loads_left(devices, chosen, others),
        -len(chosen & set(devices.stopping.values())), sorted(chosen, key=_in_order)))
    return Isolation(
        target, tuple(tuple(sorted(chosen, key=_in_order)) for chosen in ordered),
        min((sum(devices.weights[d] for d in chosen) for chosen in found), default=0),
        has_more, unavoidable, tuple(parted[chosen] for chosen in ordered))


def target_nodes(graph: TerminalGraph, target: str) -> list[int]:
    """Return the terminals that must be dead; of a panel's way, its outgoing ones."""
    diagram = graph.diagram
    if target in diagram.components:
        return graph.nodes_of(target)
    if target in diagram.conductors:
        return [n for edge in graph.edges_of.get(target, ()) for n in (edge.a, edge.b)]
    owner, _, item = target.partition(".")
    component = diagram.components.get(owner)
    if component is not None:
        port = port_of(component, item)
        if port is not None:
            return [graph.number[f"{owner}.{name}"] for name in port.poles.values()]
        inside = [n for edge in graph.edges_of.get(owner, ()) if edge.item == target
                  for n in (edge.a, edge.b)]
        if inside:
            return inside
    raise NotDrawn("part, way, conductor or terminal", target)


class LivePaths:
    """Live paths to one target: the network as it usually stands, with the device of each step."""

    def __init__(self, devices: Devices, goal: frozenset[int]) -> None:
        self.devices = devices
        self.goal = goal
        graph = devices.graph
        self._steps: list[list[tuple[int, str | None]]] = [[] for _ in graph.names]
        for edge in graph.edges:
            if edge.index in devices.closed and edge.role not in ("load", "source"):
                device = devices.opening.get(edge.index)
                self._steps[edge.a].append((edge.b, device))
                if not edge.one_way:
                    self._steps[edge.b].append((edge.a, device))
        self._starts = {s: source_nodes(graph, s) for s in devices.sources}

    def without_device(self, source: str) -> bool:
        """Say whether a source reaches the target without a device on the way."""
        return self._path([source], frozenset()) == frozenset()

    def reaches(self, source: str, chosen: frozenset[str]) -> bool:
        """Say whether a running source makes the target live with the chosen devices used."""
        return self._path([source], chosen) is not None

    def missed(self, sources: Iterable[str], chosen: frozenset[str]) -> list[frozenset[str]]:
        """Return the devices of live paths that pass all the chosen: paths that share none."""
        listed, used = list(sources), chosen
        found: list[frozenset[str]] = []
        while (path := self._path(listed, used)) is not None:
            found.append(path)
            used = used | path
        return found

    def _path(self, sources: Iterable[str], used: frozenset[str]) -> frozenset[str] | None:
        """Return the devices of a live path that has the fewest and none of the used, or None.

        A search in rounds: steps without a device first.
        """
        came: dict[int, tuple[int, str | None]] = {}
        queue: deque[tuple[int, int, str | None, bool]] = deque()
        for source in sources:
            stop = self.devices.stopping.get(source)
            if stop is None or stop not in used:
                for node in self._starts[source]:
                    _enter(queue, node, -1, stop)
        while queue:
            node, before, device, _ = queue.popleft()
            if node in came:
                continue
            came[node] = (before, device)
            if node in self.goal:
                return _devices_back(came, node)
            for after, step in self._steps[node]:
                if after not in came and (step is None or step not in used):
                    _enter(queue, after, node, step)
        return None


def _enter(
    queue: deque[tuple[int, int, str | None, bool]], node: int, before: int, device: str | None
) -> None:
    entry = (node, before, device, device is not None)
    if device is None:
        queue.appendleft(entry)
    else:
        queue.append(entry)


def _devices_back(came: dict[int, tuple[int, str | None]], node: int) -> frozenset[str]:
    found = set()
    while node >= 0:
        node, device = came[node]
        if device is not None:
            found.add(device)
    return frozenset(found)


def parted_sources(devices: Devices, chosen: frozenset[str]) -> tuple[str, ...]:
    """Return the alternators and wind generators that would run on without any battery."""
    graph = devices.graph
    batteries = frozenset(n for s in devices.sources for n in source_nodes(graph, s)
                          if graph.diagram.components[s].kind == "battery_bank")
    network = LivePaths(devices, batteries)
    still = devices.stopped(chosen)
    return tuple(
        source for source in devices.sources
        if graph.diagram.components[source].kind in ("alternator", "wind_generator")
        and source not in still
        and network.reaches(source, frozenset()) and not network.reaches(source, chosen))


def _in_order(item: str) -> tuple[str, int, str]:
    """Order ids as people count: F2 before F10."""
    letters = item.rstrip("0123456789")
    digits = item[len(letters):]
    return letters, int(digits or 0), item


def _loads_left(devices: Devices, chosen: frozenset[str], sources: Iterable[str]) -> int:
    stopped = devices.stopped(chosen)
    starts = [n for s in sources if s not in stopped for n in source_nodes(devices.graph, s)]
    live = reach(devices.graph, starts, forward(devices, chosen))
    return len(loads_at(devices.graph, live))


def forward(
    devices: Devices, chosen: frozenset[str], extra: frozenset[int] = frozenset()
) -> Passes:
    """Return the test of live reach with these devices used and some open edges closed."""
    def passes(edge: Edge, node: int) -> bool:
        if edge.role in ("load", "source") or (edge.one_way and edge.a != node):
            return False
        return edge.index in extra or not devices.is_open(edge, chosen)
    return passes


def left_alone(
    devices: Devices, chosen: frozenset[str], goal: frozenset[int], sources: Iterable[str]
) -> tuple[str, ...]:
    """Return the handles that must stay as they usually stand, or the target is live again.

    One that stands open, or a selector: each is tried alone, in any other position.
    """
    graph, stopped = devices.graph, devices.stopped(chosen)
    starts = [n for s in sources if s not in stopped for n in source_nodes(graph, s)]
    found = []
    for handle, edges in devices.hands.items():
        extra = frozenset(e.index for e in edges if e.index not in devices.closed)
        if extra and handle not in chosen and goal & reach(
                graph, starts, forward(devices, chosen, extra)):
            found.append(handle)
    return tuple(found)
