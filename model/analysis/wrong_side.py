"""Parts connected the wrong way round: a plus terminal on the negative, or a minus on the positive.

The side of a terminal is walked from the batteries; what no battery reaches has none. A part whose
plus lies above its minus, as between two taps of a bank, is right whatever the sides are called.
Batteries that are reversed themselves are named instead of what hangs on them: the sides are walked
with those turned right. `as_meant` is the diagram with all of them turned right, so that what they
cause can be told from what else is wrong.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from model.analysis.polarity import Potential, potentials
from model.analysis.reversed_batteries import has_polarity, reversed_batteries
from model.analysis.voltage_drop import PANELS
from model.diagram import Component, Diagram, End
from model.edits import changed
from model.graph import Edge, TerminalGraph
from model.kinds.record import Port


@dataclass(frozen=True, slots=True)
class WrongSide:
    """A terminal of a part on the wrong side, the pole it wants, and the conductors there."""

    item: str
    terminal: str
    wants: str
    conductors: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Move:
    """A conductor whose end belongs at another port of the same part."""

    wire: str
    part: str
    port: str
    to: str


@dataclass(frozen=True, slots=True)
class _Sided:
    """A network with the side of each terminal."""

    graph: TerminalGraph
    potentials: list[Potential]


def wrong_sides(graph: TerminalGraph) -> tuple[WrongSide, ...]:
    """Return the batteries and parts connected the wrong way round, each once.

    What hangs on a panel that is itself reversed is not counted: the panel is the cause.
    """
    return graph.of_wiring("wrong sides", lambda: (
        *(_of_battery(graph, item) for item in reversed_batteries(graph)),
        *_of_parts(_upright(graph))))


def as_meant(graph: TerminalGraph) -> Diagram:
    """Return the diagram with what is the wrong way round turned right, where that can be done by
    changing over single cores; the same when nothing is.
    """
    upright = _upright(graph)
    diagram = upright.graph.diagram
    for wrong in wrong_sides(graph):
        if wrong.item not in reversed_batteries(graph):
            diagram = _moved(diagram, _changes(upright, diagram.components[wrong.item]))
    return diagram


def change_over(graph: TerminalGraph, item: str) -> tuple[Move, ...]:
    """Return the moves that change over plus and minus of a part; none where they are no single
    cores, or both on one side, so that it would change nothing.
    """
    part = graph.diagram.components[item]
    if item in reversed_batteries(graph):
        return tuple(_swaps(graph, part))
    return _changes(_upright(graph), part)


def plus_and_minus(part: Component, graph: TerminalGraph) -> tuple[str, str]:
    """Return a part's plus terminal, the first that is connected, and its minus."""
    pluses = [terminal for terminal, wants in _poled(part, graph) if wants == "+"]
    used = [name for name in pluses if cores_at(graph, f"{part.id}.{name}")]
    return next(iter([*used, *pluses]), ""), "-"


def cores_at(graph: TerminalGraph, terminal: str) -> list[Edge]:
    """Return the cores of conductors at a terminal ("E1.+"), none for one that is not there."""
    node = graph.number.get(terminal)
    numbers = [] if node is None else graph.edges_at[node]
    edges = (graph.edges[number] for number in numbers)
    return [edge for edge in edges if edge.role == "conductor"]


def _upright(graph: TerminalGraph) -> _Sided:
    """Return the network with reversed batteries turned round, and its sides."""
    wrong = reversed_batteries(graph)
    if wrong:
        diagram = graph.diagram
        for item in wrong:
            diagram = _moved(diagram, _swaps(graph, diagram.components[item]))
        graph = TerminalGraph(diagram)
    return _Sided(graph, graph.of_wiring("potentials", lambda: potentials(graph)))


def _moved(diagram: Diagram, moves: Iterable[Move]) -> Diagram:
    wires = dict(diagram.conductors)
    for move in moves:
        wire = wires[move.wire]
        side = "start" if wire.start.component == move.part else "finish"
        end: End = getattr(wire, side)
        wires[wire.id] = changed(wire, **{side: changed(end, terminal=move.to)})
    return diagram.replaced(conductors=wires)


def _changes(sided: _Sided, part: Component) -> tuple[Move, ...]:
    graph = sided.graph
    used = [name for end in plus_and_minus(part, graph)
            if cores_at(graph, name := f"{part.id}.{end}")]
    sides = {sided.potentials[graph.number[name]].side for name in used}
    return tuple(_swaps(graph, part)) if len(sides) == len(used) else ()


def _swaps(graph: TerminalGraph, part: Component) -> list[Move]:
    """Return the moves of the conductors at a part's plus and minus to the other port; none when
    one is of several cores or its core would not get there, or when the part has several pluses or
    no minus.
    """
    ends = plus_and_minus(part, graph)
    pluses = [terminal for terminal, wants in _poled(part, graph) if wants == "+"]
    if sum(bool(cores_at(graph, f"{part.id}.{name}")) for name in pluses) > 1:
        return []
    moves = []
    for here, there in (ends, ends[::-1]):
        port = _port_of(graph, part.id, there)
        if port is None:
            return []
        for edge in cores_at(graph, f"{part.id}.{here}"):
            wire = graph.diagram.conductors[edge.owner]
            if len(wire.cores) > 1 or port.terminal_for(edge.core, 1) != there:
                return []
            own = next(end.terminal for end in wire.ends() if end.component == part.id)
            moves.append(Move(wire.id, part.id, own, port.id))
    return moves


def _port_of(graph: TerminalGraph, item: str, terminal: str) -> Port | None:
    """Return the port that is made for a terminal of a part; a splitter has none for a minus."""
    return next((port for port in graph.ports[item]
                 if next(iter(port.poles.values())) == terminal), None)


def _of_battery(graph: TerminalGraph, item: str) -> WrongSide:
    """Return a reversed battery by its plus, or by its minus when nothing is at the plus."""
    at = {pole: tuple(edge.owner for edge in cores_at(graph, f"{item}.{pole}")) for pole in "+-"}
    pole = "+" if at["+"] else "-"
    return WrongSide(item, pole, pole, at[pole])


def _of_parts(sided: _Sided) -> Iterator[WrongSide]:
    for part in sided.graph.diagram.components.values():
        if has_polarity(part):
            found = next(_of_part(part, sided), None)
            if found is not None and not _hangs_on_reversed(part, sided):
                yield found


def _of_part(part: Component, sided: _Sided) -> Iterator[WrongSide]:
    graph = sided.graph
    for terminal, wants in _poled(part, graph):
        name = f"{part.id}.{terminal}"
        wires = tuple(edge.owner for edge in cores_at(graph, name))
        if not wires:
            continue
        side = sided.potentials[graph.number[name]].side
        if side in ("+", "-") and side != wants and not _is_above(part, sided):
            yield WrongSide(part.id, terminal, wants, wires)


def _poled(part: Component, graph: TerminalGraph) -> Iterator[tuple[str, str]]:
    """Yield the terminals of a part that want one pole, each once; ways of panels want none."""
    seen = set()
    for port in graph.ports[part.id]:
        for pole, terminal in port.poles.items():
            is_way = part.kind in PANELS and port.id not in ("in", "-")
            if pole in ("+", "-") and terminal not in seen and not is_way:
                seen.add(terminal)
                yield terminal, pole


def _is_above(part: Component, sided: _Sided) -> bool:
    """Say whether a part's plus lies above its minus."""
    graph = sided.graph
    names = [f"{part.id}.{name}" for name in plus_and_minus(part, graph)]
    if not all(cores_at(graph, name) for name in names):
        return False
    high, low = (sided.potentials[graph.number[name]].nominal_v for name in names)
    return high is not None and low is not None and high > low


def _hangs_on_reversed(part: Component, sided: _Sided) -> bool:
    graph = sided.graph
    for edge in graph.edges_of.get(part.id, ()):
        for node in (edge.a, edge.b):
            for core in cores_at(graph, graph.names[node]):
                far = graph.diagram.components[graph.component_of[core.other(node)]]
                if far.kind in PANELS and far.id != part.id and any(_of_part(far, sided)):
                    return True
    return False
