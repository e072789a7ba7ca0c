"""Implied returns as a shadow network: a twin for each positive conductor without a return.

A part has one shadow node; fuses, switches and posts are plain joins in the shadow. The shadow
ends at the system's datum, or at the battery when nothing of its negative is drawn. A part's bare
minus terminal is its shadow node.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from typing import TYPE_CHECKING

from model.analysis.operating_point.network import JOINT_S
from model.analysis.operating_point.state import State
from model.analysis.systems import systems_of
from model.diagram import Diagram
from model.graph import Edge, TerminalGraph
from model.kinds import kind_of

if TYPE_CHECKING:
    from model.analysis.operating_point.build import Built

NEEDS_MINUS = ("voltage_sensing_relay", "dc_dc_charger", "dc_dc_converter", "inverter",
               "inverter_charger", "solar_controller")
NO_TWIN = ("bank_link", "control", "sense", "data", "bonding", "case_ground", "lightning")


def draws_returns(diagram: Diagram) -> bool:
    """Say whether every system's returns are drawn, so that none is implied."""
    systems = diagram.systems.values()
    return bool(systems) and all(system.returns == "drawn" for system in systems)


def is_bare(graph: TerminalGraph, node: int) -> bool:
    """Say whether nothing is drawn at a terminal, and nothing in its part leads on from it."""
    return node in graph.bare


def return_at(
    graph: TerminalGraph, component: str, shadow: Mapping[str, int]
) -> int | None:
    """Return where the negative is at a part: its own minus, or its shadow node."""
    minus = graph.number.get(f"{component}.-")
    return minus if minus is not None else shadow.get(component)


class Shadows:
    """Makes the shadow network of the systems whose returns are implied."""

    def __init__(self, graph: TerminalGraph, state: State) -> None:
        self._graph = graph
        self._diagram: Diagram = graph.diagram
        self._state = state
        self.nodes: dict[str, int] = {}

    def add(self, built: Built) -> None:
        """Add shadow nodes, twins and joins to the network."""
        if draws_returns(self._diagram):
            self._note_bare(built)
            return
        for edge in self._graph.once("edges with an implied return", self._edges_with_twins):
            drawn = self._is_drawn_system(built.network.start_v[edge.a])
            if not drawn and edge.owner not in self._state.absent:
                self._twin(edge, built)
        for component in self._diagram.components.values():
            self._join_bare_minus(component.id, built)
        self._note_bare(built)

    def _edges_with_twins(self) -> list[Edge]:
        depth = self._depths()
        return [edge for edge in self._graph.edges if self._has_twin(edge, depth)]

    def _depths(self) -> dict[int, int]:
        """Return how many steps each terminal is from a battery, whatever the switches."""
        depth = {self._graph.number[f"{c.id}.+"]: 0 for c in self._diagram.components.values()
                 if c.kind == "battery_bank"}
        queue = deque(depth)
        while queue:
            node = queue.popleft()
            for number in self._graph.edges_at[node]:
                edge = self._graph.edges[number]
                after = edge.other(node)
                if edge.role not in ("load", "source") and after not in depth:
                    depth[after] = depth[node] + 1
                    queue.append(after)
        return depth

    def _has_twin(self, edge: Edge, depth: dict[int, int]) -> bool:
        """Say whether a positive core's return is implied: none is drawn at its far end."""
        if edge.role != "conductor" or edge.core != "+":
            return False
        wire = self._diagram.conductors[edge.owner]
        if "-" in wire.cores or wire.purpose in NO_TWIN:
            return False
        near, far = sorted((edge.a, edge.b), key=lambda node: depth.get(node, 0))
        if self._has_drawn_minus(self._graph.component_of[far]):
            return False
        feeder = self._graph.component_of[near]
        is_battery = self._diagram.components[feeder].kind == "battery_bank"
        return not (is_battery and self._has_drawn_minus(feeder))

    def _twin(self, edge: Edge, built: Built) -> None:
        ends = [self._node(self._graph.component_of[n], built) for n in (edge.a, edge.b)]
        if ends[0] == ends[1]:
            return
        place = len(built.network.resistors.a)
        built.returns.setdefault(edge.owner, []).append(place)
        built.cores.append((place, edge.owner, True))
        self._join(ends[1], ends[0], built)

    def _node(self, component: str, built: Built) -> int:
        """Return a part's shadow node: its drawn minus, the datum, or a node of its own.

        A lead of a battery whose negative is drawn has no twin: what hangs on it is at the datum.
        """
        known = self.nodes.get(component)
        if known is not None:
            return known
        node = self._home(component)
        if node is None:
            node = built.network.node(0.0)
        self.nodes[component] = node
        return node

    def _home(self, component: str) -> int | None:
        part = self._diagram.components[component]
        minus = self._graph.number.get(f"{component}.-")
        if part.kind == "battery_bank" and minus is not None:
            return minus if self._is_bare(minus) else self._datum(minus)
        if minus is not None and not self._is_bare(minus):
            return minus
        battery = self._graph.once(
            "batteries with a drawn negative beside", self._beside_battery).get(component)
        return None if battery is None else self._datum(self._graph.number[f"{battery}.-"])

    def _beside_battery(self) -> dict[str, str]:
        """Return the battery with a drawn negative that a lead joins each part to."""
        beside: dict[str, str] = {}
        for wire in self._diagram.conductors.values():
            for here, there in (wire.ends(), wire.ends()[::-1]):
                if self._is_drawn_battery(there.component):
                    beside.setdefault(here.component, there.component)
        return beside

    def _datum(self, minus: int) -> int:
        for system in self._diagram.systems.values():
            datum = self._graph.number.get(system.negative_datum or "")
            if datum is not None:
                return datum
        return minus

    def _is_drawn_battery(self, component: str) -> bool:
        part = self._diagram.components[component]
        return part.kind == "battery_bank" and self._has_drawn_minus(component)

    def _has_drawn_minus(self, component: str) -> bool:
        node = self._graph.number.get(f"{component}.-")
        return node is not None and not self._is_bare(node)

    def _is_bare(self, node: int) -> bool:
        return is_bare(self._graph, node)

    def _join_bare_minus(self, component: str, built: Built) -> None:
        """Join a part's bare minus terminals to its shadow, batteries and blocks to the datum."""
        part = self._diagram.components[component]
        kind = kind_of(part)
        if part.kind == "battery_bank" or kind.role in ("earth", "engine"):
            self._tie_to_datum(component, built)
            return
        shadow = self.nodes.get(component)
        if shadow is None:
            return
        for name in ("-", "out-"):
            node = self._graph.number.get(f"{component}.{name}")
            if node is not None and node != shadow and self._is_bare(node):
                self._join(node, shadow, built)

    def _tie_to_datum(self, component: str, built: Built) -> None:
        """Batteries and engine blocks without a drawn negative share the datum of the system."""
        name = "-" if self._diagram.components[component].kind == "battery_bank" else "block"
        node = self._graph.number.get(f"{component}.{name}")
        if node is None or any(self._graph.edges[i].role == "conductor"
                               for i in self._graph.edges_at[node]):
            return
        datum = self._datum(self._first_minus(node))
        if datum != node:
            self._join(node, datum, built)

    def _first_minus(self, fallback: int) -> int:
        """Return the minus of the first battery: the datum when none is named."""
        batteries = sorted(c.id for c in self._diagram.components.values()
                           if c.kind == "battery_bank")
        return self._graph.number[f"{batteries[0]}.-"] if batteries else fallback

    def _join(self, a: int, b: int, built: Built) -> None:
        r = built.network.resistors
        r.a.append(a)
        r.b.append(b)
        r.g_s.append(JOINT_S)

    def _is_drawn_system(self, volts: float) -> bool:
        """Say whether every system of a terminal's nominal volts has drawn returns."""
        def is_drawn() -> bool:
            own = systems_of(self._diagram, [volts])
            return bool(own) and all(system.returns == "drawn" for system in own)
        return self._graph.once(f"drawn system of {volts} V", is_drawn)

    def _is_fed_drawn(self, component: str, built: Built) -> bool:
        """Say whether a part's plus belongs to a system of drawn returns."""
        nodes = self._graph.nodes_of(component)
        return any(self._is_drawn_system(built.network.start_v[node]) for node in nodes)

    def _note_bare(self, built: Built) -> None:
        """With drawn returns a bare minus is a missing conductor."""
        for component in self._diagram.components.values():
            node = self._graph.number.get(f"{component.id}.-")
            needs_it = kind_of(component).role == "load" or component.kind in NEEDS_MINUS
            if node is None or not needs_it or not self._is_bare(node):
                continue
            if not draws_returns(self._diagram) and not self._is_fed_drawn(component.id, built):
                continue
            built.problem("missing_return", f"{component.id} has no return: its minus is bare",
                          component.id)
