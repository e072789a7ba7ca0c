"""Fitting a part into a conductor: it is cut, and the part takes both new ends.

Terminal a comes to lie on the side of the supply. The length is shared out by where the part
falls on the line, and can be set anew for the supply's side.
"""

from __future__ import annotations

from collections import deque
from typing import Literal

from msgspec import Struct

from app.drafting.belonging import in_its_place
from app.drafting.cutting import Cut, Point, cut_paths, halves
from app.drafting.parts import repathed, routed, turn_along
from app.drawing.conductors import is_drawn
from app.drawing.placing import placed_part, placed_parts
from app.drawing.routing import legs, snapped
from app.words import _, within
from model.diagram import Component, Conductor, Diagram, End, SheetPath
from model.edits import Edit, changed, setting
from model.errors import ModelError
from model.graph import TerminalGraph
from model.kinds import kind_of, port_of
from model.naming import fresh_ids

Side = Literal["start", "finish"]
HALF_DEVICE_MM = 5.0  # from the middle of an in-line symbol to its terminals
CLEAR_MM = 2.5
PASSED_ROLES = ("conductor", "join", "contact", "overcurrent", "diode")


class NoPole(ModelError):
    """A stud or device that cannot take all cores of a conductor."""

    def __init__(self, conductor: str, what: str) -> None:
        super().__init__(f"{what} does not take every core of {conductor}; nothing was changed.",
                         (conductor,))


class Gap(Struct, frozen=True):
    """Where a part comes to stand in a conductor: on which leg, and how it is turned."""

    conductor: str
    path: tuple[Point, ...]
    leg: int
    at: Point
    turn: Literal[0, 90, 180, 270]
    supply: Side


def fits_in(component: Component, wire: Conductor) -> bool:
    """Say whether a part has two terminals, a and b, that take all cores of a conductor."""
    own = with_pole(component, wire)
    ports = [port_of(own, name) for name in ("a", "b")]
    return all(port is not None and all(
        port.terminal_for(core, len(wire.cores)) is not None for core in wire.cores)
        for port in ports)


def is_loose(diagram: Diagram, component: Component) -> bool:
    """Say whether a part has terminals a and b and no conductor on either."""
    return port_of(component, "a") is not None and port_of(component, "b") is not None and not any(
        end.component == component.id and end.terminal in ("a", "b")
        for wire in diagram.conductors.values() for end in wire.ends())


def supply_side(diagram: Diagram, wire: Conductor) -> Side:
    """Return the end of a conductor from which the fewest steps lead to a battery.

    Without a battery on either side, to another source; without any the start.
    """
    graph = TerminalGraph(diagram)
    for roles in (("storage",), ("source",)):
        far = [_steps(graph, wire, end, roles) for end in wire.ends()]
        if far[0] != far[1]:
            return "start" if far[0] < far[1] else "finish"
    return "start"


def _steps(graph: TerminalGraph, wire: Conductor, end: End, roles: tuple[str, ...]) -> float:
    port = port_of(graph.diagram.components[end.component], end.terminal)
    terminal = port.terminal_for(wire.cores[0], len(wire.cores)) if port is not None else None
    start = graph.number[f"{end.component}.{terminal}"]
    waiting, seen = deque([(start, 0)]), {start}
    while waiting:
        node, steps = waiting.popleft()
        if graph.kinds[graph.component_of[node]].role in roles:
            return steps
        for onward, edge in graph.neighbours[node]:
            if edge.role in PASSED_ROLES and edge.owner != wire.id and onward not in seen:
                seen.add(onward)
                waiting.append((onward, steps + 1))
    return float("inf")


def gap_on(wire: Conductor, path: tuple[Point, ...], near: Point, supply: Side) -> Gap:
    """Return the gap nearest to a point, on a leg of the conductor that has room for a device."""
    numbered = list(enumerate(legs(path)))
    rooms = [(leg, *_room(path, leg)) for leg, _ in numbered]
    roomy = [room for room in rooms if room[1] <= room[2]] or [max(
        rooms, key=lambda room: room[2] - room[1])]
    gaps = []
    for leg, low, high in roomy:
        (ax, ay), (bx, by) = path[leg], path[leg + 1]
        level = _is_level(path, leg)
        along = (snapped((low + high) / 2) if low > high
                 else min(max(snapped(near[0] if level else near[1]), low), high))
        at = (along, ay) if level else (ax, along)
        way = (bx - ax, by - ay) if supply == "start" else (ax - bx, ay - by)
        gaps.append(Gap(wire.id, path, leg, at, turn_along(*way), supply))
    return min(gaps, key=lambda gap: abs(gap.at[0] - near[0]) + abs(gap.at[1] - near[1]))


def _is_level(path: tuple[Point, ...], leg: int) -> bool:
    return abs(path[leg][1] - path[leg + 1][1]) < 1e-6


def _room(path: tuple[Point, ...], leg: int) -> tuple[float, float]:
    """Return between which figures along a leg the middle of a device may lie. [mm]"""
    axis = 0 if _is_level(path, leg) else 1
    ends = [(path[number][axis], HALF_DEVICE_MM + (CLEAR_MM if is_outer else 0.0))
            for number, is_outer in ((leg, leg == 0), (leg + 1, leg == len(path) - 2))]
    (low, before), (high, after) = sorted(ends)
    return low + before, high - after


def inserted_part(diagram: Diagram, component: Component, gap: Gap) -> Component:
    """Return the part as it stands in the gap."""
    turned: Component = changed(component, at=gap.at, turn=gap.turn)
    return in_its_place(diagram, with_pole(turned, diagram.conductors[gap.conductor]))


def insert_edit(diagram: Diagram, component: Component, gap: Gap) -> Edit:
    """Return the edit that fits a new part, or a loose one, into a conductor; raise NoPole."""
    wire = diagram.conductors[gap.conductor]
    title = kind_of(component).title
    if not fits_in(component, wire):
        raise NoPole(wire.id, title)
    part = inserted_part(diagram, component, gap)
    near, far = End(component=part.id, terminal="a"), End(component=part.id, terminal="b")
    first, second = (near, far) if gap.supply == "start" else (far, near)
    cut = Cut(gap.path, gap.leg, gap.at, first, second)
    label = _("Insert {kind} {part} in {wire}").format(
        kind=within(title), part=part.id, wire=wire.id)
    return cut_edit(diagram, label, part, wire, cut, gap.supply)


def cut_edit(
    diagram: Diagram, label: str, part: Component, wire: Conductor, cut: Cut, supply: Side
) -> Edit:
    """Return the edit that cuts a conductor and leads both halves to a part, with their lines.

    The half on the side of the supply is the new one.
    """
    after = diagram.replaced(components=diagram.components.with_item(part.id, part))
    (item,) = fresh_ids(["W"], after)
    pieces = halves(wire, cut, item, start_is_new=supply == "start")
    placed = placed_part(part)
    if placed is None:
        return setting(diagram, label, part, *pieces)
    ends = (placed.port(cut.first.terminal).at, placed.port(cut.second.terminal).at)
    by_hand = wire.path is not None and wire.path.by_hand
    lines = cut_paths(cut, *ends, by_hand)
    after = after.replaced(conductors=after.conductors.with_items(
        (piece.id, piece) for piece in pieces))
    parts = placed_parts(after)
    drawn = [
        repathed(after, parts, other, {part.id}, None) for other in after.conductors.values()
        if other not in pieces and is_drawn(other, parts)
        and part.id in {end.component for end in other.ends()}]
    for piece, line in zip(pieces, lines, strict=True):
        if not line:
            line = SheetPath(points=routed(after, parts, piece))
        drawn.append(changed(piece, path=line))
    return setting(diagram, label, part, *drawn)


def with_pole(component: Component, wire: Conductor) -> Component:
    """Return the part with the pole it sits in, where its field for that is still unknown."""
    spec = kind_of(component).field("poles")
    pole = wire.cores[0]
    usual = "-" if component.kind == "shunt" else "+"
    if (spec is None or len(wire.cores) > 1 or pole not in spec.choices or pole == usual
            or "poles" in component.parameters):
        return component
    parameters = component.parameters.with_item("poles", pole)
    made: Component = changed(component, parameters=parameters)
    return made


def pieces_beside(diagram: Diagram, part: str) -> tuple[Conductor, Conductor] | None:
    """Return the one conductor on terminal a of a part and the one on b, or None."""
    sides: dict[str, list[Conductor]] = {"a": [], "b": []}
    for wire in diagram.conductors.values():
        for end in wire.ends():
            if end.component == part and end.terminal in sides:
                sides[end.terminal].append(wire)
    if any(len(wires) != 1 for wires in sides.values()):
        return None
    (a,), (b,) = sides.values()
    return (a, b) if a.id != b.id else None


def split_edit(diagram: Diagram, part: str, supply_m: float) -> Edit:
    """Return the edit that shares out the length on both sides of a part anew.

    `supply_m` is what lies before its terminal a; the other side has the rest. Raise ModelError
    when there is no such length to share out.
    """
    pieces = pieces_beside(diagram, part)
    if pieces is None or pieces[0].length_m is None or pieces[1].length_m is None:
        raise ModelError(f"{part} has no one length on each side to share out.", (part,))
    whole_m = round(pieces[0].length_m + pieces[1].length_m, 9)
    if supply_m > whole_m:
        raise ModelError(f"The whole cable is {whole_m:g} m long.", (part,))
    lengths = (supply_m, round(whole_m - supply_m, 9))
    values = [changed(wire, length_m=length_m)
              for wire, length_m in zip(pieces, lengths, strict=True)]
    return setting(diagram, _("Share out the length at {part}").format(part=part), *values)


