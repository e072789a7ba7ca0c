"""From where a load is supplied: its own device, the batteries a hand can put on it, and whether
it stays live when everything is switched off.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from model.analysis.bank_strings import feet
from model.analysis.banks import is_main_switch
from model.analysis.charging import posts
from model.analysis.circuit_switches import in_use
from model.analysis.coils import dead_contacts
from model.analysis.fed_by import battery_posts
from model.analysis.negatives import converter_minuses, is_drawn, over_converters
from model.analysis.reach import (
    Onward,
    came_from,
    follow,
    leads_to,
    onward,
    reach,
    source_nodes,
    standing,
    way_back,
)
from model.analysis.unswitched import mains_open
from model.graph import Edge, TerminalGraph

NO_WAY = frozenset({"load", "source"})


def own_devices(graph: TerminalGraph) -> Mapping[str, frozenset[str]]:
    """Return for each load the fuses and breakers met first on the ways back to what feeds it.

    By item. A fuse built into the load is no device of the boat's. A load that something feeds past
    all devices has none.
    """
    return graph.of_wiring("own_devices", lambda: _devices_of_loads(graph, {}, usual=False))


def devices_when_off(graph: TerminalGraph) -> Mapping[str, frozenset[str]]:
    """Return the same of the ways that stay closed with every main switch open."""
    return graph.of_wiring("devices_when_off", lambda: _devices_of_loads(
        graph, mains_open(graph), usual=True))


def _devices_of_loads(
    graph: TerminalGraph, positions: Mapping[str, str], usual: bool
) -> dict[str, frozenset[str]]:
    dead = _dead(graph, positions) if usual else frozenset[str]()
    closed = _conducting(graph, positions, dead) if usual else _any
    state = standing(positions), usual, dead
    back = onward(graph, ("back", state), lambda edge, at: closed(edge) and _back(edge, at))
    before_devices = onward(graph, ("before devices", state), lambda edge, at: (
        edge.role != "overcurrent" and closed(edge) and _back(edge, at)))
    known: dict[frozenset[int], frozenset[str]] = {}
    found = {}
    for part in graph.diagram.components.values():
        if graph.kinds[part.id].role != "load" or f"{part.id}.+" not in graph.number:
            continue
        near = frozenset(follow(before_devices, [graph.number[f"{part.id}.+"]]))
        if near not in known:
            known[near] = _devices_round(graph, near, back)
        found[part.id] = known[near]
    return found


def behind_main_switch(graph: TerminalGraph, load: str) -> bool:
    """Say whether a main switch stands between a load and its first device."""
    near = reach(graph, [graph.number[f"{load}.+"]], lambda edge, at: (
        edge.role != "overcurrent" and _back(edge, at)))
    return any(is_main_switch(graph, graph.component_of[node]) for node in near)


def _devices_round(graph: TerminalGraph, near: frozenset[int], back: Onward) -> frozenset[str]:
    """Return the devices at the edge of some terminals behind which something feeds."""
    feeding = _feeding(graph)
    if near & feeding:
        return frozenset()
    met = {(edge.item, beyond) for node in near for beyond, edge in graph.neighbours[node]
           if edge.role == "overcurrent" and beyond in back[node] and beyond not in near}
    return frozenset(
        item for item, beyond in met if leads_to(back, [beyond], feeding, without=near))


def _feeding(graph: TerminalGraph) -> frozenset[int]:
    """Return the terminals by which batteries and other DC sources give."""
    return graph.of_wiring("feeding", lambda: frozenset(
        node for part in graph.diagram.components for node in source_nodes(graph, part)))


def _back(edge: Edge, at: int) -> bool:
    return edge.role not in NO_WAY and not (edge.one_way and edge.b != at)


def _any(_edge: Edge) -> bool:
    return True


def blown_by(graph: TerminalGraph, load: str) -> frozenset[str]:
    """Return the devices that a fault inside a load opens: none where its built-in fuse opens
    first.
    """
    built_in = graph.diagram.components[load].parameters.get("own_fuse") is True
    return frozenset() if built_in else own_devices(graph)[load]


def needed_by(graph: TerminalGraph, load: str) -> frozenset[str]:
    """Return the devices that each by itself leave a load dead, whatever the switches' positions.

    Each stands in every way back to a source, so one way is enough to look along.
    """
    plus, feeding = graph.number[f"{load}.+"], _feeding(graph)
    came = came_from(graph, [plus], _back)
    source = next((node for node in came if node in feeding), None)
    way = () if source is None else way_back(came, source)

    def feeds_without(item: str) -> bool:
        return not feeding.isdisjoint(reach(
            graph, [plus], lambda edge, at: edge.item != item and _back(edge, at)))

    return frozenset(edge.item for edge in way
                     if edge.role == "overcurrent" and not feeds_without(edge.item))


def batteries_at_will(graph: TerminalGraph, load: str) -> frozenset[str]:
    """Return the batteries that some position of the hand-worked switches puts on a load."""
    node = graph.number[f"{load}.+"]
    return frozenset(battery for battery, put_on in _put_on(graph) if node in put_on)


def _put_on(graph: TerminalGraph) -> tuple[tuple[str, set[int]], ...]:
    """Return each battery post by its battery, with the terminals that switches can put it on."""
    def passes(edge: Edge, at: int) -> bool:
        by_volts = edge.role == "contact" and (
            graph.diagram.components[edge.owner].kind == "voltage_sensing_relay")
        charger = edge.role == "converter" and (
            graph.diagram.components[edge.owner].kind != "dc_dc_converter")
        return not (edge.role in NO_WAY or by_volts or charger
                    or (edge.one_way and edge.a != at))

    return graph.of_wiring("at will", lambda: tuple(
        (graph.component_of[post], reach(graph, [post], passes))
        for post in battery_posts(graph)))


def live_when_off(graph: TerminalGraph) -> frozenset[int]:
    """Return the terminals that batteries feed with every main switch open.

    Contacts that no hand works count as closed: a float switch will close. Relays that volts work
    are open: nothing charges.
    """
    return graph.of_wiring("live_when_off", lambda: _from_batteries(graph, mains_open(graph)))


def live_when_on(graph: TerminalGraph) -> frozenset[int]:
    """Return the terminals that batteries feed as switches usually stand, float switches closed."""
    return graph.of_wiring("live_when_on", lambda: _from_batteries(graph, {}))


def has_power_when_off(graph: TerminalGraph, part: str) -> bool:
    """Say whether a load has power with every main switch open and all circuits in use.

    A battery feeds its plus, and its minus, where both are drawn, still leads to that battery's.
    """
    off = {**in_use(graph), **mains_open(graph)}
    feeding = _batteries_feeding(graph, part, off)
    minus = graph.number.get(f"{part}.-")
    homes = {graph.number[f"{foot}.-"] for item in feeding for foot in feet(graph, item)}
    if minus is None or not is_drawn(graph, minus) or not all(is_drawn(graph, n) for n in homes):
        return bool(feeding)
    closed = _closed(graph, off)

    def joined(starts: Iterable[int]) -> set[int]:
        return reach(graph, starts, lambda edge, _: edge.role not in NO_WAY and closed(edge))

    return not homes.isdisjoint(
        over_converters(joined([minus]), joined, converter_minuses(graph)))


def batteries_when_off(graph: TerminalGraph, part: str) -> tuple[str, ...]:
    """Return the batteries that feed a load with every main switch open."""
    return _batteries_feeding(graph, part, mains_open(graph))


def _batteries_feeding(
    graph: TerminalGraph, part: str, positions: Mapping[str, str]
) -> tuple[str, ...]:
    node = graph.number[f"{part}.+"]
    return tuple(battery for post, battery in posts(graph).items()
                 if node in _from_posts(graph, [post], positions))


def _from_batteries(graph: TerminalGraph, positions: Mapping[str, str]) -> frozenset[int]:
    return _from_posts(graph, posts(graph), positions)


def _from_posts(
    graph: TerminalGraph, starts: Iterable[int], positions: Mapping[str, str]
) -> frozenset[int]:
    closed = _closed(graph, positions)
    return frozenset(reach(graph, starts, lambda edge, at: (
        edge.role not in NO_WAY and not (edge.one_way and edge.a != at) and closed(edge))))


def _closed(graph: TerminalGraph, positions: Mapping[str, str]) -> Callable[[Edge], bool]:
    """Return the test of what conducts in positions, by itself closing contacts closed but those
    whose coil a drawn switch leaves dead.
    """
    return _conducting(graph, positions, _dead(graph, positions))


def _dead(graph: TerminalGraph, positions: Mapping[str, str]) -> frozenset[str]:
    """Return the parts whose contacts a drawn switch leaves open in positions."""
    return dead_contacts(graph, _conducting(graph, positions, frozenset()))


def _conducting(
    graph: TerminalGraph, positions: Mapping[str, str], dead: frozenset[str]
) -> Callable[[Edge], bool]:
    parts = graph.diagram.components
    automatic = graph.of_wiring("worked by no hand", lambda: frozenset(
        part.id for part in parts.values() if part.kind != "voltage_sensing_relay"
        and not any(h.manual for h in graph.kinds[part.id].handles(part.parameters))))

    def closed(edge: Edge) -> bool:
        if edge.owner in dead:
            return False
        if edge.role == "contact" and edge.owner in automatic and edge.handle not in positions:
            return True
        by_volts = edge.role == "contact" and parts[edge.owner].kind == "voltage_sensing_relay"
        return not by_volts and graph.is_closed(edge, positions)

    return closed
