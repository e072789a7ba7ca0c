"""From a diagram to arrays: every terminal a node, every way through a part an element.

What a figure needs and nobody stated is noted as a problem, with what was taken instead.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from model.analysis.battery_model import accepts_a, resistance_ohm, rest_v
from model.analysis.operating_point.converters import add_converter, add_generator
from model.analysis.operating_point.loads import add_load
from model.analysis.operating_point.network import JOINT_S, Diodes, Network, Resistors
from model.analysis.operating_point.pieces import joined, joined_before
from model.analysis.operating_point.returns import Shadows, return_at
from model.analysis.operating_point.state import Problem, State
from model.diagram import Diagram
from model.graph import Edge, TerminalGraph
from model.kinds.storage import nominal_v
from model.tables import resistance_ohm_per_km

COPPER = ("conductor", "join")
PASSING = ("contact", "overcurrent", "diode")
PARTED_FROM_AC = ("contact", "overcurrent", "load")
GIVING_OR_TAKING = ("source", "load", "converter")
LEAST_OHM = 1 / JOINT_S
# Common practice, no source: the slope of a diode; a battery of which nothing is stated; the
# charge of a bank where a mode states none; what a nearly full bank takes, as a share of its
# capacity an hour.
DIODE_OHM = 0.01
UNKNOWN_BATTERY_OHM = 0.01
CHARGED = 0.8
TAIL_SHARE = 0.02


@dataclass(slots=True)
class Built:
    """The network with where each edge and part went: (sort of element, its number).

    `shadow` is the node of each part's implied negative, `cores` the places of the resistors that
    are cores of conductors, each with its conductor and whether it is an implied return.
    """

    network: Network
    edge_element: dict[int, tuple[str, int]] = field(default_factory=dict)
    returns: dict[str, list[int]] = field(default_factory=dict)
    parts: dict[str, tuple[str, int]] = field(default_factory=dict)
    problems: dict[Problem, None] = field(default_factory=dict)
    loads: dict[str, tuple[str, int]] = field(default_factory=dict)
    battery_links: dict[str, list[int]] = field(default_factory=dict)
    fault: int | None = None
    shadow: dict[str, int] = field(default_factory=dict)
    cores: list[tuple[int, str, bool]] = field(default_factory=list)

    def problem(self, kind: str, sentence: str, *ids: str) -> None:
        """Note a problem once."""
        self.problems[Problem(kind, ids, sentence)] = None


def build(graph: TerminalGraph, state: State, start_v: list[float]) -> Built:
    """Return the network of a diagram in a state; `start_v` by terminal number."""
    built = _copied(_as_switched(graph, state, start_v))
    for edge in _edges(graph, GIVING_OR_TAKING):
        if not state.absent or _is_there(graph, edge, state):
            _add_edge(graph, edge, state, built)
    for component in graph.diagram.components.values():
        if component.id in state.sources and component.id not in state.absent:
            add_generator(graph, component, state, built)
    if state.fault is not None:
        _add_fault(graph, state.fault, built)
    return built


def _as_switched(graph: TerminalGraph, state: State, start_v: list[float]) -> Built:
    """Return what no source or load has a say in: copper, contacts and diodes. Many states have the
    same of it, those apart in which something is away.
    """
    if state.absent:
        return _with_contacts(graph, state, _copper_at(
            graph, state.copper_c, _copper(graph, state, start_v)))
    volts = hash(tuple(start_v))
    switches = (state.contact_ohm, frozenset(state.positions.items()),
                frozenset(state.automatic.items()))

    def copper() -> Built:
        laid_out = graph.of_wiring(("copper", volts), lambda: _copper(graph, state, start_v))
        return _copper_at(graph, state.copper_c, _copied(laid_out))

    def switched() -> Built:
        hot = graph.once(("copper", volts, state.copper_c), copper)
        return _with_contacts(graph, state, _copied(hot))

    return graph.once(("switched", volts, state.copper_c, switches), switched)


def _copper_at(graph: TerminalGraph, copper_c: float, built: Built) -> Built:
    """Give all cores the conductance they have when so hot."""
    g_s = built.network.resistors.g_s
    for place, wire, is_return in built.cores:
        g_s[place] = 1 / conductor_ohm(graph.diagram, wire, built, copper_c, is_return)
    return built


def _copper(graph: TerminalGraph, state: State, start_v: list[float]) -> Built:
    """Return what no switch has a say in either: conductors, joins, implied returns; for any heat.
    """
    network = Network()
    for volts in start_v:
        network.node(volts)
    built = Built(network)
    for edge in graph.edges:
        if edge.role in COPPER and _is_there(graph, edge, state):
            _add_copper(graph, edge, built)
    shadows = Shadows(graph, state)
    shadows.add(built)
    built.shadow = shadows.nodes
    _piece(network)
    return built


def _with_contacts(graph: TerminalGraph, state: State, built: Built) -> Built:
    """Add closed contacts, devices and diodes."""
    for edge in _edges(graph, PASSING):
        if state.absent and not _is_there(graph, edge, state):
            continue
        if edge.role == "diode":
            _diode(graph, edge, built)
        elif state.is_closed(graph, edge):
            _resistor(built, edge, state.contact_ohm)
    _piece(built.network)
    return built


def _edges(graph: TerminalGraph, roles: tuple[str, ...]) -> list[Edge]:
    """Return the ways through parts of some roles; AC is another network."""
    return graph.once(("edges", roles), lambda: [
        edge for edge in graph.edges if edge.role in roles
        and not (edge.role in PARTED_FROM_AC and _is_ac(graph, edge))])


def _piece(network: Network) -> None:
    """Work out the pieces that the resistors there are join."""
    r, first = network.resistors, network.pieced
    network.pieces = joined(joined_before(network), zip(r.a[first:], r.b[first:], strict=True))
    network.pieced = len(r.a)


def _copied(built: Built) -> Built:
    """Return a network to be added to, with the same nodes, resistors and diodes."""
    of = built.network
    r, d = of.resistors, of.diodes
    network = Network(
        of.nodes, list(of.start_v), Resistors(list(r.a), list(r.b), list(r.g_s)),
        diodes=Diodes(list(d.a), list(d.b), list(d.drop_v), list(d.g_s)),
        pieces=of.pieces, pieced=of.pieced)
    return Built(network, dict(built.edge_element), built.returns, {}, dict(built.problems),
                 shadow=built.shadow, cores=built.cores)


def _is_there(graph: TerminalGraph, edge: Edge, state: State) -> bool:
    return graph.component_of[edge.a] not in state.absent and edge.owner not in state.absent


def _add_fault(
    graph: TerminalGraph, fault: tuple[int, int | None], built: Built
) -> None:
    """Join two terminals by next to nothing."""
    at, back = fault
    if back is None:
        back = return_at(graph, graph.component_of[at], built.shadow)
    if back is None or back == at:
        name = graph.names[at]
        built.problem("cannot_tell", f"cannot tell: {name} has no return", name)
        return
    r = built.network.resistors
    built.fault = len(r.a)
    r.a.append(at)
    r.b.append(back)
    r.g_s.append(JOINT_S)


def _add_copper(graph: TerminalGraph, edge: Edge, built: Built) -> None:
    if edge.role == "join":
        if not _is_ac(graph, edge):
            _resistor(built, edge, LEAST_OHM)
    elif edge.core not in ("L", "L2", "N", "E", "signal"):
        built.cores.append((len(built.network.resistors.a), edge.owner, False))
        _resistor(built, edge, LEAST_OHM)


def _add_edge(graph: TerminalGraph, edge: Edge, state: State, built: Built) -> None:
    if edge.role == "source":
        _battery(graph, edge, state, built)
    elif edge.role == "load":
        if state.loads_run:
            add_load(graph, edge, state, built)
    elif edge.role == "converter" and not _is_left_out(graph, edge, state):
        add_converter(graph, edge, state, built)


def _is_left_out(graph: TerminalGraph, edge: Edge, state: State) -> bool:
    """In a fault chargers are out; a converter still gives what its limit lets it."""
    return state.fault is not None and graph.diagram.components[edge.owner].kind == "dc_dc_charger"


def _is_ac(graph: TerminalGraph, edge: Edge) -> bool:
    return edge.a in graph.of_wiring("AC terminals", lambda: frozenset(
        number for number, name in enumerate(graph.names)
        if name.rpartition(".")[2].endswith(("L", "N", "E", "L2"))))


def _resistor(built: Built, edge: Edge, ohm: float) -> None:
    r = built.network.resistors
    built.edge_element[edge.index] = ("resistors", len(r.a))
    r.a.append(edge.a)
    r.b.append(edge.b)
    r.g_s.append(1 / max(ohm, LEAST_OHM))


def conductor_ohm(
    diagram: Diagram, wire_id: str, built: Built, copper_c: float, returning: bool = False
) -> float:
    """Return a conductor's resistance one way; missing fields are noted and count as nothing."""
    wire = diagram.conductors[wire_id]
    length = wire.length_m
    if returning and wire.return_length_m is not None:
        length = wire.return_length_m
    if length is None:
        built.problem("cannot_tell", f"cannot tell: length of {wire_id} missing", wire_id)
    if length == 0:
        built.problem("cannot_tell", f"cannot tell: length of {wire_id} is zero", wire_id)
    if wire.size is None:
        built.problem("cannot_tell", f"cannot tell: size of {wire_id} missing", wire_id)
    if length is None or wire.size is None:
        return LEAST_OHM
    per_km = resistance_ohm_per_km(wire.size, copper_c, wire.tinned is True).value
    return max(per_km * length / 1000 / (wire.parallel_count or 1), LEAST_OHM)


def _diode(graph: TerminalGraph, edge: Edge, built: Built) -> None:
    parameters = graph.diagram.components[edge.owner].parameters
    drop = parameters.get("drop_v")
    if drop is None:
        drop = {"silicon": 0.7, "schottky": 0.4, "transistor": 0.05}.get(
            parameters.get("type", "silicon"), 0.7)
        built.problem("assumed", f"{edge.owner}: forward drop taken as {drop:g} V "
                      "(common practice, no source)", edge.owner)
    d = built.network.diodes
    built.edge_element[edge.index] = ("diodes", len(d.a))
    d.a.append(edge.a)
    d.b.append(edge.b)
    d.drop_v.append(drop)
    d.g_s.append(1 / DIODE_OHM)


def _battery(graph: TerminalGraph, edge: Edge, state: State, built: Built) -> None:
    component = graph.diagram.components[edge.owner]
    if component.stored is True or edge.owner in state.spent:
        return
    parameters = component.parameters
    whole = nominal_v(parameters)
    if not whole:
        built.problem("cannot_tell", f"cannot tell: volts of {edge.owner} missing", edge.owner)
        return
    share = link_share(graph, edge)
    charge = state.charge_of(edge.owner, CHARGED)
    if charge <= 0:
        built.problem("empty", f"{edge.owner} is empty: 0 % charge", edge.owner)
    emf = rest_v(parameters, charge).value or whole
    ohm = resistance_ohm(parameters)
    if ohm.value is None:
        built.problem("assumed", f"{edge.owner}: internal resistance unknown, taken as "
                      f"{UNKNOWN_BATTERY_OHM:g} ohm", edge.owner)
    accepted = accepts_a(parameters).value
    b = built.network.batteries
    built.edge_element[edge.index] = ("batteries", len(b.minus))
    built.parts[edge.owner] = ("batteries", len(b.minus))
    built.battery_links.setdefault(edge.owner, []).append(len(b.minus))
    b.minus.append(edge.a)
    b.plus.append(edge.b)
    b.emf_v.append(emf * share)
    b.g_s.append(1 / max((ohm.value or UNKNOWN_BATTERY_OHM) * share, LEAST_OHM))
    capacity = parameters.get("capacity_ah")
    if state.tail_charge and capacity:
        accepted = TAIL_SHARE * capacity
    b.accepts_a.append(1e9 if accepted is None or state.fault is not None else accepted)


def link_share(graph: TerminalGraph, edge: Edge) -> float:
    """Return what share of a battery's blocks one of its links is: all, unless it has taps."""
    parameters = graph.diagram.components[edge.owner].parameters
    taps = {f"tap_{tap['id']}": tap.get("after_block", 1) for tap in parameters.get("taps", ())}
    if not taps:
        return 1.0
    series = parameters.get("series_count", 1)
    blocks: Mapping[str, int] = {"-": 0, "+": series, **taps}
    low, high = (graph.names[node].partition(".")[2] for node in (edge.a, edge.b))
    return max((blocks[high] - blocks[low]) / series, 1e-6)
