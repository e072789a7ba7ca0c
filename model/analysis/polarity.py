"""Polarity and nominal volts of every terminal, by a signed walk from the batteries.

The plus of a block is its minus plus its nominal volts; so the middle of a series string is known
and a link between blocks is neither positive nor negative. Nothing is read from labels, except in
a fragment that no battery reaches.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from msgspec import Struct

from model.graph import Edge, TerminalGraph
from model.kinds.storage import nominal_v

Side = Literal["+", "-", "ac", "other", "unknown"]
_AC = frozenset({"L", "L2", "N", "E"})


class Potential(Struct, frozen=True):
    """What is known of a terminal: its side, and its nominal volts above the datum. [V]."""

    side: Side
    nominal_v: float | None = None


def _joins(graph: TerminalGraph, edge: Edge) -> bool:
    if edge.role in ("conductor", "join", "overcurrent"):
        return True
    return edge.role == "contact" and graph.is_closed(edge, {})


class Nets:
    """Terminals joined by edges, unless said by conductors, joins, protection and usually closed
    contacts.
    """

    def __init__(
        self, graph: TerminalGraph, joins: Callable[[TerminalGraph, Edge], bool] = _joins
    ) -> None:
        self._parent = list(range(len(graph.names)))
        for edge in graph.edges:
            if joins(graph, edge):
                self.join(edge.a, edge.b)

    def net(self, node: int) -> int:
        """Return the net a terminal belongs to."""
        parent = self._parent
        while parent[node] != node:
            parent[node] = parent[parent[node]]
            node = parent[node]
        return node

    def join(self, a: int, b: int) -> None:
        """Join two nets."""
        self._parent[self.net(a)] = self.net(b)


def potentials(graph: TerminalGraph) -> list[Potential]:
    """Return the potential of each terminal, by its number."""
    nets = Nets(graph)
    known = _walked(graph, nets)
    _through_open_contacts(graph, nets, known)
    _converter_outputs(graph, nets, known)
    _through_open_contacts(graph, nets, known)
    return [known.get(nets.net(node)) or _by_name(graph, node)
            for node in range(len(graph.names))]


def _walked(graph: TerminalGraph, nets: Nets) -> dict[int, Potential]:
    """Walk over the battery links of each string, from its lowest net upwards."""
    steps: dict[int, list[tuple[int, float | None, int]]] = {}
    for edge in graph.edges:
        if edge.role == "source":
            volts = _link_volts(graph, edge)
            low, high = nets.net(edge.a), nets.net(edge.b)
            steps.setdefault(low, []).append((high, volts, 1))
            steps.setdefault(high, []).append((low, volts, -1))
    known: dict[int, Potential] = {}
    anchors = [nets.net(node) for system in graph.diagram.systems.values()
               if (node := graph.number.get(system.negative_datum or "")) is not None]
    lowest = [net for net, ways in steps.items() if all(sign > 0 for _, _, sign in ways)]
    for start in [*anchors, *lowest]:
        if start in known:
            continue
        known[start] = Potential("-", 0.0)
        queue = [start]
        while queue:
            net = queue.pop()
            for after, volts, sign in steps.get(net, ()):
                if after in known:
                    continue
                known[after] = _stepped(known[net], volts, sign)
                queue.append(after)
    return known


def _link_volts(graph: TerminalGraph, edge: Edge) -> float | None:
    """Return the volts of one link of a battery: all blocks, or those between two taps."""
    parameters = graph.diagram.components[edge.owner].parameters
    whole, series = nominal_v(parameters), parameters.get("series_count", 1)
    taps = {f"tap_{tap['id']}": tap.get("after_block", 1) for tap in parameters.get("taps", ())}
    if whole is None or not taps:
        return whole
    blocks = {"-": 0, "+": series, **taps}
    low, high = (graph.names[node].partition(".")[2] for node in (edge.a, edge.b))
    return whole * (blocks[high] - blocks[low]) / series


def _stepped(here: Potential, volts: float | None, sign: int) -> Potential:
    if here.nominal_v is None or volts is None:
        return Potential("+" if sign > 0 else "unknown")
    after = here.nominal_v + sign * volts
    return Potential("-" if abs(after) < 1e-9 else "+", after)


def _through_open_contacts(
    graph: TerminalGraph, nets: Nets, known: dict[int, Potential]
) -> None:
    """Give what lies behind a usually open contact or a diode the potential before it."""
    changed = True
    while changed:
        changed = False
        for edge in graph.edges:
            if edge.role not in ("contact", "diode"):
                continue
            a, b = nets.net(edge.a), nets.net(edge.b)
            for here, there in ((a, b), (b, a)):
                if here in known and there not in known:
                    known[there] = known[here]
                    changed = True


def _converter_outputs(graph: TerminalGraph, nets: Nets, known: dict[int, Potential]) -> None:
    """A converter's DC output without a battery has its own nominal volts."""
    for edge in graph.edges:
        if edge.role != "converter":
            continue
        terminal = graph.names[edge.b].partition(".")[2]
        if terminal.endswith("+") and nets.net(edge.b) not in known:
            part = graph.diagram.components[edge.owner]
            # What an inverter-charger calls its output is AC: its DC side is its input.
            field = "input_v" if part.kind == "inverter_charger" else "output_v"
            known[nets.net(edge.b)] = Potential("+", part.parameters.get(field))


def _by_name(graph: TerminalGraph, node: int) -> Potential:
    """Return what the kind's record says of a terminal that no battery reaches.

    With implied returns a bare minus is negative; else only sources and AC terminals are known.
    """
    component = graph.diagram.components[graph.component_of[node]]
    terminal = graph.names[node].partition(".")[2]
    pole = _pole_of(graph, component.id, terminal)
    if pole in _AC or terminal[-1:] in ("L", "N", "E"):
        return Potential("ac")
    if pole == "signal" or pole is None:
        return Potential("other")
    kind = graph.kinds[component.id]
    if pole == "-" and kind.role not in ("distribution", "switch", "protection", "measuring"):
        return Potential("-", 0.0) if _is_bare(graph, node) or kind.role == "source" else (
            Potential("unknown"))
    if pole == "+" and kind.source is not None:
        return Potential("+", component.parameters.get("nominal_v"))
    return Potential("unknown")


def _pole_of(graph: TerminalGraph, component: str, terminal: str) -> str | None:
    kind = graph.kinds[component]
    for port in kind.ports(graph.diagram.components[component].parameters):
        for pole, name in port.poles.items():
            if name == terminal:
                return pole
    return None


def _is_bare(graph: TerminalGraph, node: int) -> bool:
    return not any(graph.edges[i].role == "conductor" for i in graph.edges_at[node])
