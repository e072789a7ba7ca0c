"""Drawn returns: how the negative of each load and panel gets home, and where none is drawn.
Batteries, arrays and chargers count too: what they give has to come back.

A system states that its returns are drawn; only there is a bare minus a missing conductor.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.analysis.negatives import is_drawn, negative_passes
from model.analysis.operating_point.returns import NEEDS_MINUS, draws_returns, is_bare
from model.analysis.reach import follow, onward
from model.analysis.runs import is_dc_power
from model.analysis.systems import systems_of
from model.analysis.unfed import IN_LINE, fed_in_some_position
from model.analysis.voltage_drop import PANELS
from model.graph import Edge, TerminalGraph
from model.kinds import kind_of

if TYPE_CHECKING:
    from model.survey import Survey

PLUS = ("+", "in+", "out+", "a+", "1+", "2+", "3+")
# What these give has to come back; of alternators and starters 7.12 judges the return.
GIVING = ("battery_bank", "solar_array", "wind_generator", "wind_controller", "shore_charger")
# What comes in at the plus of these goes on past them: their minus serves a coil alone.
COIL_ONLY = ("voltage_sensing_relay",)


@dataclass(frozen=True, slots=True)
class Return:
    """A part's feed (its last conductor) and its return.

    `conductors` are those of the return that carry this part's current alone; none when the minus
    is bare or returns inside a cable of several cores. `is_missing` says that one has to be drawn,
    from the terminal named.
    """

    item: str
    feed: str
    conductors: tuple[str, ...]
    is_missing: bool
    terminal: str


def drawn_returns(survey: Survey) -> Iterator[Return]:
    """Yield the returns of parts that are fed, as far as they are drawn or have to be; of sources,
    chargers and batteries those that have to be.
    """
    graph = survey.graph
    fed = fed_in_some_position(graph)
    for component in survey.diagram.components.values():
        kind = kind_of(component)
        gives = component.kind in GIVING and component.stored is not True
        if not gives and kind.role != "load" and component.kind not in (*NEEDS_MINUS, *PANELS):
            continue
        minus = graph.number.get(f"{component.id}.-")
        feed = next(_feeds(survey, component.id), None)
        if minus is None or feed is None or component.return_by == "case":
            continue
        edge, node = feed
        open_end = _open_end(graph, minus) if gives else minus if is_bare(graph, minus) else None
        if open_end is not None:
            is_live = node in fed or kind.role == "source"
            if is_live and is_drawn_system(survey, node):
                yield Return(component.id, edge.owner, (), True, graph.names[open_end])
        elif component.kind not in COIL_ONLY and not gives:
            yield Return(component.id, edge.owner, _alone(survey, minus), False, graph.names[minus])


def _open_end(graph: TerminalGraph, minus: int) -> int | None:
    """Return where the negative of what gives ends without having met anything but what stands in
    line, such as its shunt and switch; None when it leads on.
    """
    ways = onward(graph, "negatives past all", negative_passes)
    met = sorted(follow(ways, [minus]) - set(graph.nodes_of(graph.component_of[minus])))
    kinds = {node: graph.kinds[graph.component_of[node]] for node in met}
    if any(kind.role not in IN_LINE and kind.slug != "monitor" for kind in kinds.values()):
        return None
    return next((node for node, kind in kinds.items() if kind.role in IN_LINE
                 and not is_drawn(graph, node)), minus if is_bare(graph, minus) else None)


def without_return(survey: Survey) -> frozenset[str]:
    """Return the parts at whose minus a conductor is missing."""
    return frozenset(back.item for back in survey.drawn_returns if back.is_missing)


def _feeds(survey: Survey, item: str) -> Iterator[tuple[Edge, int]]:
    """Yield the power cores at a part's plus terminals, with that terminal."""
    graph = survey.graph
    for name in PLUS:
        node = graph.number.get(f"{item}.{name}")
        if node is not None:
            for number in graph.edges_at[node]:
                if is_dc_power(graph, graph.edges[number]):
                    yield graph.edges[number], node


def is_drawn_system(survey: Survey, node: int) -> bool:
    """Say whether a terminal's volts are those of systems that draw their returns."""
    if draws_returns(survey.diagram):
        return True
    own = systems_of(survey.diagram, [survey.potentials[node].nominal_v])
    return bool(own) and all(system.returns == "drawn" for system in own)


def _alone(survey: Survey, minus: int) -> tuple[str, ...]:
    """Return the single negative conductors in series from a part's minus to the first branch."""
    graph = survey.graph
    found: dict[str, None] = {}
    for number in graph.edges_at[minus]:
        edge = graph.edges[number]
        if is_dc_power(graph, edge):
            run = next((run for run in survey.runs if edge.owner in run), ())
            wires = (survey.diagram.conductors[item] for item in (edge.owner, *run))
            found.update(dict.fromkeys(wire.id for wire in wires if wire.cores == ("-",)))
    return tuple(found)
