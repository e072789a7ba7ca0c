"""Edits of conductors: connect two terminals, bend by hand, route anew, set a field."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from app.drafting.parts import routed, set_title
from app.drawing.conductors import is_drawn, routed_anew
from app.drawing.placing import placed_parts
from app.drawing.routing import snapped, tidied
from app.words import _, within
from model.diagram import Conductor, Diagram, End, Known, SheetPath
from model.edits import Edit, changed, setting
from model.errors import ModelError
from model.kinds import Port, port_of
from model.naming import fresh_ids

Point = tuple[float, float]
AC_CORES = ("L", "N", "E")


class NotConnectable(ModelError):
    """Two terminals that no one conductor can join."""

    def __init__(self, first: str, second: str) -> None:
        parts = {name.partition(",")[0] for name in (first, second)}
        why = ("that is the same terminal" if len(parts) == 1
               else "they have no core in common")
        super().__init__(f"No conductor joins {first} and {second}: {why}.", (first, second))


def cores_between(first: Port, second: Port) -> tuple[str, ...]:
    """Return the cores of a conductor between two ports, empty when none fits."""
    if "L" in first.poles and "L" in second.poles:
        return AC_CORES
    for core in ("+", "-", "signal", "bonding", "L", "N", "E"):
        if core in first.poles and core in second.poles:
            return ("E",) if core == "bonding" else (core,)
    if is_control(first) or is_control(second):
        # A coil or start terminal is worked by the plus or the minus that is led to it.
        other = second if is_control(first) else first
        return next(((pole,) for pole in ("+", "-") if pole in other.poles), ())
    one_terminal = all(len(set(port.poles.values())) == 1 for port in (first, second))
    if one_terminal:
        pole = next(iter(first.poles))
        return ("E",) if pole == "bonding" else (pole,)
    return ()


def is_control(port: Port) -> bool:
    """Return whether a port takes nothing but a control line."""
    return set(port.poles) == {"signal"}


def purpose_between(cores: tuple[str, ...], first: Port, second: Port) -> str | None:
    """Return the purpose that the terminals tell, or None."""
    if "sense" in (first.id, second.id):
        return "sense"
    if is_control(first) or is_control(second):
        return "control"
    return "bonding" if cores == ("E",) else None


def connect_edit(diagram: Diagram, first: tuple[str, str], second: tuple[str, str]) -> Edit:
    """Return the edit that joins two terminals; raise NotConnectable."""
    names = [f"{component}, {terminal}" for component, terminal in (first, second)]
    ports = [port_of(diagram.components[component], terminal)
             for component, terminal in (first, second)]
    if ports[0] is None or ports[1] is None or first == second:
        raise NotConnectable(*names)
    cores = cores_between(ports[0], ports[1])
    if not cores or first[0] == second[0] and any(
            ports[0].terminal_for(core, len(cores)) == ports[1].terminal_for(core, len(cores))
            for core in cores):
        raise NotConnectable(*names)
    (item,) = fresh_ids(["W"], diagram)
    conductor = Conductor.read({
        "id": item, "cores": cores,
        "from": End(component=first[0], terminal=first[1]),
        "to": End(component=second[0], terminal=second[1]),
        "purpose": purpose_between(cores, ports[0], ports[1]),
    })
    parts = placed_parts(diagram)
    if is_drawn(conductor, parts):
        path = SheetPath(points=routed(diagram, parts, conductor))
        conductor = changed(conductor, path=path)
    return setting(diagram, _("Connect {first} to {second}").format(
        first=first[0], second=second[0]), conductor)


def bend_edit(diagram: Diagram, conductor_id: str, points: Sequence[Point]) -> Edit:
    """Return the edit that gives a conductor corners placed by hand."""
    on_grid = [points[0], *((snapped(x), snapped(y)) for x, y in points[1:-1]), points[-1]]
    path = SheetPath(points=tidied(on_grid), by_hand=True)
    after = changed(diagram.conductors[conductor_id], path=path)
    return setting(diagram, _("Bend {what}").format(what=conductor_id), after)


def leg_moved(points: Sequence[Point], leg: int, to: Point) -> tuple[Point, ...]:
    """Return the corners with one leg slid sideways; an end leg gets a new corner."""
    listed = list(points)
    if leg == 0:
        listed.insert(1, listed[0])
        leg = 1
    if leg == len(listed) - 2:
        listed.insert(len(listed) - 1, listed[-1])
    a, b = listed[leg], listed[leg + 1]
    if abs(a[1] - b[1]) < 1e-6 and abs(a[0] - b[0]) > 1e-6:
        y = snapped(to[1])
        listed[leg], listed[leg + 1] = (a[0], y), (b[0], y)
    else:
        x = snapped(to[0])
        listed[leg], listed[leg + 1] = (x, a[1]), (x, b[1])
    return tuple(listed)


def reroute_edit(diagram: Diagram, conductor_ids: Sequence[str]) -> Edit:
    """Return the edit that routes conductors anew and forgets their bends by hand."""
    parts = placed_parts(diagram)
    chosen = [diagram.conductors[item] for item in conductor_ids
              if is_drawn(diagram.conductors[item], parts)]
    stored = {wire.id: wire.path.points for wire in diagram.conductors.values()
              if wire.path is not None and is_drawn(wire, parts)}
    paths = routed_anew(diagram, parts, chosen, stored)
    after = [changed(wire, path=SheetPath(points=paths[wire.id])) for wire in chosen]
    return setting(diagram, _("Route anew"), *after)


def wire_field_edit(
    diagram: Diagram, conductor_id: str, field: str, value: Any, how_known: Known | None = None,
    title: str = "",
) -> Edit:
    """Return the edit that sets one field of a conductor; None makes it unknown again.

    `title` is what the form calls the field; what stands behind a comma there is left out.
    """
    conductor = diagram.conductors[conductor_id]
    known = conductor.known.with_item(field, how_known if value is not None else None)
    after = changed(conductor, **{field: value, "known": known})
    called = within(title or field.replace("_", " ")).partition(",")[0]
    return setting(diagram, set_title(called, conductor_id), after,
                   merge_key=f"{conductor_id}.{field}")
