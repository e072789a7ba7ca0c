"""Live and stiff reach against networkx reachability, on hundreds of random boats.

Source: networkx, `descendants` of a directed graph that is built here from the diagram by the
definitions alone (conductors both ways, contacts as they stand, diodes and converters forward).
"""

from __future__ import annotations

import random
from typing import Any

import networkx
import pytest

from model.analysis.reach import live_passes, reach, source_nodes, stiff_passes
from model.diagram import Diagram
from model.errors import ModelError
from model.kinds import kind_of
from model.survey import Survey
from tests.boat_builder import Boat

PARTS = ("battery_bank", "fuse", "battery_switch", "busbar", "load", "solar_controller",
         "solar_array", "voltage_sensing_relay", "diode_isolator", "dc_dc_converter",
         "selector_switch", "panel", "stud", "shunt")


def random_boat(seed: int) -> Diagram:
    """Return a boat of random parts joined at random positive terminals."""
    rng = random.Random(seed)
    boat = Boat()
    for number in range(rng.randint(4, 14)):
        boat.part(f"A{number}", rng.choice(PARTS))
    diagram = boat.diagram()
    ends = [f"{c.id}.{port.id}" for c in diagram.components.values()
            for port in kind_of(c).ports(c.parameters) if "+" in port.poles]
    for number in range(rng.randint(4, 26)):
        a, b = rng.sample(ends, 2)
        try:
            boat.wire(f"W{number}", a, b).diagram()
        except ModelError:
            boat._items["conductors"].pop(f"W{number}")
    return boat.diagram()


def directed(diagram: Diagram, positions: dict[str, str], stiff: bool) -> Any:
    """Return the network as a directed graph of terminal names, from the records alone."""
    graph = networkx.MultiDiGraph()
    for component in diagram.components.values():
        kind = kind_of(component)
        normal = {h.id: h.normal for h in kind.handles(component.parameters)}
        for link in kind.links(component.parameters):
            if link.role in ("load", "source") or (stiff and link.role == "converter"):
                continue
            if link.handle is not None:
                full = f"{component.id}.{link.handle}" if link.handle else component.id
                if positions.get(full, normal[link.handle]) not in link.closed_in:
                    continue
            a, b = f"{component.id}.{link.a}", f"{component.id}.{link.b}"
            graph.add_edge(a, b)
            if not link.one_way:
                graph.add_edge(b, a)
    for wire in diagram.conductors.values():
        names = []
        for end in wire.ends():
            component = diagram.components[end.component]
            port = next(p for p in kind_of(component).ports(component.parameters)
                        if p.id == end.terminal)
            names.append(f"{end.component}.{port.terminal_for('+', 1)}")
        graph.add_edge(*names)
        graph.add_edge(*reversed(names))
    return graph


def random_positions(diagram: Diagram, rng: random.Random) -> dict[str, str]:
    positions = {}
    for component in diagram.components.values():
        for handle in kind_of(component).handles(component.parameters):
            if rng.random() < 0.5:
                full = f"{component.id}.{handle.id}" if handle.id else component.id
                positions[full] = rng.choice(handle.positions)
    return positions


@pytest.mark.parametrize("seed", range(300))
def test_both_reaches_agree_with_networkx(seed: int) -> None:
    diagram = random_boat(seed)
    positions = random_positions(diagram, random.Random(seed))
    graph = Survey(diagram).graph
    for stiff, passes in ((False, live_passes), (True, stiff_passes)):
        other = directed(diagram, positions, stiff)
        for component in diagram.components.values():
            starts = source_nodes(graph, component.id)
            own = {graph.names[n] for n in reach(graph, starts, passes(graph, positions))}
            expected = {graph.names[n] for n in starts}
            for start in sorted(expected & set(other)):
                expected |= networkx.descendants(other, start)
            assert own == expected
