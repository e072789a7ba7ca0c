"""From where a load is supplied: its own device, the batteries a hand can put on it, and whether
it stays live when everything is switched off.
"""

from __future__ import annotations

from collections.abc import Mapping

from model.analysis.reach import reach
from model.analysis.unswitched import mains_open
from model.graph import Edge, TerminalGraph

NO_WAY = frozenset({"load", "source"})


def own_devices(graph: TerminalGraph) -> Mapping[str, frozenset[str]]:
    """Return for each load the fuses and breakers met first on the ways back from it, by item."""
    return graph.once("own_devices", lambda: {
        part.id: _own_devices(graph, graph.number[f"{part.id}.+"])
        for part in graph.diagram.components.values()
        if graph.kinds[part.id].role == "load" and f"{part.id}.+" in graph.number})


def _own_devices(graph: TerminalGraph, node: int) -> frozenset[str]:
    found: set[str] = set()

    def passes(edge: Edge, at: int) -> bool:
        if edge.role == "overcurrent":
            found.add(edge.item)
            return False
        return edge.role not in NO_WAY and not (edge.one_way and edge.b != at)

    reach(graph, [node], passes)
    return frozenset(found)


def sharing(graph: TerminalGraph) -> Mapping[str, tuple[str, ...]]:
    """Return the loads that hang on one fuse or breaker and on no other, by its item."""
    shared: dict[str, list[str]] = {}
    for load, devices in own_devices(graph).items():
        if len(devices) == 1:
            shared.setdefault(next(iter(devices)), []).append(load)
    return {item: tuple(loads) for item, loads in shared.items()}


def batteries_at_will(graph: TerminalGraph, load: str) -> frozenset[str]:
    """Return the batteries that some position of the hand-worked switches puts on a load."""
    def passes(edge: Edge, at: int) -> bool:
        by_volts = edge.role == "contact" and (
            graph.diagram.components[edge.owner].kind == "voltage_sensing_relay")
        charger = edge.role == "converter" and (
            graph.diagram.components[edge.owner].kind != "dc_dc_converter")
        return not (edge.role in NO_WAY or by_volts or charger
                    or (edge.one_way and edge.b != at))

    nodes = reach(graph, [graph.number[f"{load}.+"]], passes)
    return frozenset(
        graph.component_of[node] for node in nodes
        if graph.diagram.components[graph.component_of[node]].kind == "battery_bank"
        and not graph.names[node].endswith(".-"))


def live_when_off(graph: TerminalGraph) -> frozenset[int]:
    """Return the terminals that batteries feed with every main switch open.

    Contacts that no hand works count as closed: a float switch will close.
    """
    return graph.once("live_when_off", lambda: _from_batteries(graph, mains_open(graph)))


def live_when_on(graph: TerminalGraph) -> frozenset[int]:
    """Return the terminals that batteries feed as switches usually stand, float switches closed."""
    return graph.once("live_when_on", lambda: _from_batteries(graph, {}))


def _from_batteries(graph: TerminalGraph, positions: Mapping[str, str]) -> frozenset[int]:
    def passes(edge: Edge, at: int) -> bool:
        if edge.role in NO_WAY or (edge.one_way and edge.a != at):
            return False
        if edge.role == "contact" and edge.owner in automatic:
            return True
        return edge.role in ("conductor", "join", "converter", "diode") or (
            graph.is_closed(edge, positions))

    parts = graph.diagram.components.values()
    automatic = {part.id for part in parts if not any(
        handle.manual for handle in graph.kinds[part.id].handles(part.parameters))}
    posts = [graph.number[f"{part.id}.+"] for part in parts if part.kind == "battery_bank"]
    return frozenset(reach(graph, posts, passes))
