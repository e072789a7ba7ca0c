"""What a hand can do to make something dead: open, pull, unplug, stop, brake, cover.

A handle is taken to its off position. No other position is worth a try: off opens every contact
that any other opens, and closes none.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from model.analysis.banks import handle_of, off_position
from model.analysis.reach import active_sources
from model.diagram import Component
from model.graph import Edge, TerminalGraph

Action = Literal["stop_engine", "stop_generator", "brake", "unplug", "open", "pull", "cover"]
WEIGHTS: Mapping[Action, int] = {
    "stop_engine": 1, "stop_generator": 1, "brake": 1, "unplug": 1, "open": 1, "pull": 3,
    "cover": 4,
}
STOPS: Mapping[str, Action] = {
    "alternator": "stop_engine", "generator": "stop_generator", "wind": "brake",
    "shore": "unplug", "sun": "cover",
}


@dataclass(frozen=True, slots=True)
class Device:
    """One thing to do. `id` is the full id of a handle, or of what is stopped or covered.

    `position` is where a handle goes, None for a source.
    """

    id: str
    action: Action
    position: str | None = None

    @property
    def weight(self) -> int:
        """How unwelcome it is: whole, 1 for a switch. [1]."""
        return WEIGHTS[self.action]


class Devices:
    """Which device opens each edge, and which one stops each source.

    Contacts that something else works (coil, float, volts) count as closed in any position: they
    may close while somebody has his hands on the part. So does a spring-loaded button.
    """

    def __init__(self, graph: TerminalGraph) -> None:
        self.graph = graph
        self.by_id: dict[str, Device] = {}
        self.opening: dict[int, str] = {}
        self.closed: set[int] = set()
        self.hands: dict[str, list[Edge]] = {}
        for edge in graph.edges:
            self._add_edge(edge)
        self.sources = active_sources(graph.diagram)
        self.stopping: dict[str, str] = {}
        for source in self.sources:
            device = stopped_by(graph, source)
            if device is not None:
                self.stopping[source] = device.id
                self.by_id[device.id] = device

    def _add_edge(self, edge: Edge) -> None:
        if edge.handle is None or not by_hand(self.graph, edge):
            self.closed.add(edge.index)
            return
        self.hands.setdefault(edge.handle, []).append(edge)
        if not self.graph.is_closed(edge, {}):
            return
        self.closed.add(edge.index)
        off = off_position(self.graph, edge)
        if off not in edge.closed_in:
            self.opening[edge.index] = edge.handle
            action: Action = "pull" if off == "pulled" else "open"
            self.by_id[edge.handle] = Device(edge.handle, action, off)

    @cached_property
    def weights(self) -> Mapping[str, int]:
        """Return the weight of each device by its id. [1]."""
        return {device.id: device.weight for device in self.by_id.values()}

    def stopped(self, chosen: Iterable[str]) -> frozenset[str]:
        """Return the sources that these devices stop."""
        taken = set(chosen)
        return frozenset(s for s, device in self.stopping.items() if device in taken)

    def is_open(self, edge: Edge, chosen: frozenset[str]) -> bool:
        """Say whether an edge is open with these devices used and all else as usual."""
        return edge.index not in self.closed or self.opening.get(edge.index) in chosen


def by_hand(graph: TerminalGraph, edge: Edge) -> bool:
    """Say whether a hand opens this edge and it stays open.

    Not so for coils, floats and springs, unless there is a manual override, nor for a breaker
    that resets itself.
    """
    parameters = graph.diagram.components[edge.owner].parameters
    if parameters.get("remote") == "without" or edge.device.get("reset") == "automatic":
        return False
    if graph.kinds[edge.owner].slug == "ac_transfer_switch" and parameters.get("type") == "relay":
        return False
    handle = handle_of(graph, edge)
    return handle.manual and (handle.isolates or parameters.get("remote") == "with_override")


def is_remote_disconnect(part: Component) -> bool:
    """Say whether a part is a switch of a bank or load that a coil works."""
    return part.kind in ("contactor", "relay") and (
        "remote" in part.parameters or part.parameters.get("role") == "bank")


def stopped_by(graph: TerminalGraph, source: str) -> Device | None:
    """Return how a source is stopped, None for a battery or a wind generator without a brake."""
    energy = graph.kinds[source].source
    if energy is None:
        return None
    parameters = graph.diagram.components[source].parameters
    engine = str(parameters.get("driven_by", ""))
    if energy.kind in ("alternator", "generator") and engine in graph.diagram.components:
        return Device(engine, "stop_engine")
    if energy.kind == "battery" or (
            energy.kind == "wind" and parameters.get("stop_by") == "none"):
        return None
    return Device(source, STOPS[energy.kind])
