"""A conductor that is followed aboard: it ends in the unknown, and later where it really goes.

An untraced end stands for "a wire I found, goes I know not where". Where it is traced to, the
conductor ends there instead, with all that is known of it, and the mark goes.
"""

from __future__ import annotations

from typing import Any

from app.drafting.belonging import in_its_place
from app.drafting.parts import new_component, routed
from app.drafting.wires import NotConnectable, cores_between, purpose_between
from app.drawing.conductors import is_drawn
from app.drawing.placing import placed_parts
from model.diagram import Component, Conductor, Diagram, SheetPath
from model.edits import Edit, changed, put
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

    Raise NotConnectable.
    """
    wire = untraced_wire(diagram, lost)
    if wire is None:
        raise NotConnectable(*(", ".join(terminal) for terminal in (lost, found)))
    is_start = wire.start.component == lost[0]
    kept = wire.finish if is_start else wire.start
    moved = changed(wire.start if is_start else wire.finish, component=found[0],
                    terminal=found[1])
    fields: dict[str, Any] = {"start" if is_start else "finish": moved, "path": None}
    traced = changed(wire, **fields, **_cores(diagram, wire, (kept.component, kept.terminal),
                                              found))
    gone = put(diagram, "components", lost[0], None)
    after = diagram.replaced(
        components=diagram.components.with_item(lost[0], None),
        conductors=diagram.conductors.with_item(wire.id, traced))
    parts = placed_parts(after)
    if is_drawn(traced, parts):
        traced = changed(traced, path=SheetPath(points=routed(after, parts, traced)))
    label = f"Trace {wire.id} to {found[0]}"
    return Edit(label, (gone, put(diagram, "conductors", wire.id, traced)))


def _cores(
    diagram: Diagram, wire: Conductor, kept: Terminal, found: Terminal
) -> dict[str, Any]:
    """Return cores and purpose between where a conductor comes from and where it was traced to.

    The cores that are drawn stay where they fit; a single one may turn out another.
    """
    ports = [port_of(diagram.components[component], terminal)
             for component, terminal in (kept, found)]
    first, second = ports
    if first is None or second is None or kept == found:
        raise NotConnectable(*(", ".join(terminal) for terminal in (kept, found)))
    if all(core in port.poles for port in (first, second) for core in wire.cores):
        cores = wire.cores
    else:
        cores = cores_between(first, second)
    if not cores:
        raise NotConnectable(*(", ".join(terminal) for terminal in (kept, found)))
    return {"cores": cores, "purpose": wire.purpose or purpose_between(cores, first, second)}
