"""Ways on which energy goes round: from a charger's output forward back to its own input.

Forward through converters and diodes, both ways through what joins. Relays and contactors that no
hand works may be closed at the same time; a hand's switch counts as it usually stands; an AC
transfer passes from whichever supply it is turned to. Emergency links are left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from model.analysis.banks import handle_of
from model.analysis.charging import FROM_AC
from model.analysis.heavy_loads import INVERTERS
from model.analysis.reach import came_from, leads_to, onward, standing, way_back
from model.analysis.starter import is_emergency_link
from model.analysis.usual_states import usual_states
from model.graph import Edge, TerminalGraph


def energy_loops(graph: TerminalGraph) -> tuple[tuple[Edge, ...], ...]:
    """Return each loop once, as its edges from the input of the charger it was found by."""
    found: dict[frozenset[str], tuple[Edge, ...]] = {}
    for charger in _chargers(graph):
        for state in usual_states(graph.diagram):
            way = _way_round(graph, charger, state.positions)
            if way and not _is_held_off(graph, charger.owner, way):
                found.setdefault(frozenset(_converters(way)), way)
    return tuple(found.values())


def _chargers(graph: TerminalGraph) -> Iterator[Edge]:
    for part in graph.diagram.components.values():
        if part.kind == "dc_dc_charger" or part.kind in FROM_AC:
            yield from (edge for edge in graph.edges_of[part.id] if edge.role == "converter"
                        and graph.names[edge.b].endswith("+"))


def _way_round(
    graph: TerminalGraph, charger: Edge, positions: Mapping[str, str]
) -> tuple[Edge, ...]:
    def passes(edge: Edge, node: int) -> bool:
        if edge.role in ("load", "source") or (edge.one_way and edge.a != node):
            return False
        return edge.role != "contact" or _conducts(graph, edge, node, positions)

    ways = onward(graph, ("round", standing(positions)), passes)
    if not leads_to(ways, [charger.b], {charger.a}):
        return ()
    came = came_from(graph, [charger.b], passes)
    return charger, *way_back(came, charger.a)


def _is_held_off(graph: TerminalGraph, charger: str, way: tuple[Edge, ...]) -> bool:
    """Say whether a charger rests while the inverter that feeds it on its way round runs."""
    held = graph.diagram.components[charger].parameters.get("held_off_by_inverter") is True
    return held and any(
        edge.role == "converter" and graph.kinds[edge.owner].slug in INVERTERS for edge in way)


def _conducts(
    graph: TerminalGraph, edge: Edge, node: int, positions: Mapping[str, str]
) -> bool:
    """Say whether a contact may pass energy on from one of its ends."""
    if is_emergency_link(graph, edge.owner):
        return False
    if graph.kinds[edge.owner].family == "alternating":
        return edge.a == node
    return graph.is_closed(edge, positions) or not handle_of(graph, edge).manual


def _converters(way: tuple[Edge, ...]) -> Iterator[str]:
    return (edge.owner for edge in way if edge.role in ("converter", "contact"))
