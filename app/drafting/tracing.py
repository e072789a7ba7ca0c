"""A conductor that is followed aboard: it ends in the unknown, and later where it really goes.

An untraced end stands for "a wire I found, goes I know not where". Where it is traced to, the
conductor ends there instead, with all that is known of it, and the mark goes.
"""

from __future__ import annotations

from typing import Any

from app.drafting.belonging import in_its_place
from app.drafting.cutting import made_one
from app.drafting.parts import new_component, routed
from app.drafting.wires import NotConnectable, cores_between, purpose_between
from app.drawing.conductors import is_drawn
from app.drawing.placing import placed_parts
from model.diagram import Component, Conductor, Diagram, SheetPath
from model.edits import Edit, apply, changed, put
from model.kinds import port_of

Point = tuple[float, float]
Terminal = tuple[str, str]
UNTRACED = "untraced_end"


def new_untraced_end(diagram: Diagram, start: Terminal, at: Point) -> Component:
    """Return an end in the unknown for a conductor that begins at a terminal."""
    port = port_of(diagram.components[start[0]], start[1])
    poles = port.poles if port is not None else {}
    if {"L", "N"} <= set(poles):
        pole = "ac"
    else:
        pole = next(core for core in ("+", "-", "signal", "bonding", "L", "N", "E", *poles)
                    if core in poles)
    end = in_its_place(diagram, new_component(diagram, UNTRACED, at))
    made: Component = changed(end, parameters={"pole": pole})
    return made


def untraced_wire(diagram: Diagram, terminal: Terminal) -> Conductor | None:
    """Return the conductor that ends in the unknown at this terminal, or None."""
    part = diagram.components[terminal[0]]
    if part.kind != UNTRACED:
        return None
    wires = [wire for wire in diagram.conductors.values()
             if part.id in {end.component for end in wire.ends()}]
    return wires[0] if len(wires) == 1 else None


def traced_edit(diagram: Diagram, lost: Terminal, found: Terminal) -> Edit:
    """Return the edit that lets the conductor at an untraced end go to a terminal instead.

    Where another conductor was lost too, both turn out to be one. Raise NotConnectable.
    """
    wire, other = untraced_wire(diagram, lost), untraced_wire(diagram, found)
    if wire is None or wire is other:
        raise NotConnectable(", ".join(lost), ", ".join(found))
    traced = _moved(wire, lost[0], found)
    changes = [put(diagram, "components", lost[0], None)]
    if other is not None:
        traced, _ = made_one(traced, other, found[0])
        changes += [put(diagram, "components", found[0], None),
                    put(diagram, "conductors", other.id, None)]
    traced = changed(traced, path=None, **_cores(diagram, traced))
    changes.append(put(diagram, "conductors", wire.id, traced))
    after = apply(diagram, Edit("", tuple(changes)))
    parts = placed_parts(after)
    if is_drawn(traced, parts):
        traced = changed(traced, path=SheetPath(points=routed(after, parts, traced)))
        changes[-1] = put(diagram, "conductors", wire.id, traced)
    to = other.id if other is not None else found[0]
    return Edit(f"Trace {wire.id} to {to}", tuple(changes))


def _moved(wire: Conductor, lost: str, found: Terminal) -> Conductor:
    """Return the conductor with its untraced end on a terminal."""
    side = "start" if wire.start.component == lost else "finish"
    end = changed(getattr(wire, side), component=found[0], terminal=found[1])
    made: Conductor = changed(wire, **{side: end})
    return made


def _cores(diagram: Diagram, wire: Conductor) -> dict[str, Any]:
    """Return cores and purpose of a conductor between where it was found to go.

    The cores that are drawn stay where they fit; a single one may turn out another.
    """
    names = [f"{end.component}, {end.terminal}" for end in wire.ends()]
    first, second = (port_of(diagram.components[end.component], end.terminal)
                     for end in wire.ends())
    if first is None or second is None or names[0] == names[1]:
        raise NotConnectable(*names)
    fits = all(core in port.poles for port in (first, second) for core in wire.cores)
    cores = wire.cores if fits else cores_between(first, second)
    if not cores:
        raise NotConnectable(*names)
    return {"cores": cores, "purpose": wire.purpose or purpose_between(cores, first, second)}
