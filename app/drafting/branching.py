"""Joining two points of the drawing, each a terminal or somewhere on a conductor, or nowhere yet.

Where a branch leaves a conductor it gets a stud: a joint that can be found, named and opened.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct
from msgspec.structs import replace

from app.drafting.bar_studs import OnBar, with_bar_stud
from app.drafting.belonging import in_its_place
from app.drafting.cutting import Cut, Point
from app.drafting.inserting import CLEAR_MM, NoPole, cut_edit, supply_side
from app.drafting.parts import move_edit, new_component
from app.drafting.tracing import new_untraced_end, traced_edit, untraced_wire
from app.drafting.wires import NotConnectable, connect_edit
from app.drawing.routing import legs, snapped
from app.words import _
from model.diagram import Component, Conductor, Diagram, End
from model.edits import Edit, apply, changed, merge, setting
from model.kinds import catalogue

Terminal = tuple[str, str]


class OnWire(Struct, frozen=True):
    """A point on a leg of a conductor, which runs along `path`."""

    conductor: str
    path: tuple[Point, ...]
    leg: int
    near: Point

    def at(self) -> Point:
        """Return the point of the grid on the leg, clear of its ends where there is room."""
        (ax, ay), (bx, by) = legs(self.path)[self.leg]
        level = abs(ay - by) < 1e-6
        low, high = sorted((ax, bx) if level else (ay, by))
        if high - low < 2 * CLEAR_MM:
            along = (low + high) / 2
        else:
            wanted = snapped(self.near[0] if level else self.near[1])
            along = min(max(wanted, low + CLEAR_MM), high - CLEAR_MM)
        return (along, ay) if level else (ax, along)


Anchor = Terminal | OnWire | OnBar


def join_edit(diagram: Diagram, first: Anchor, second: Anchor) -> Edit:
    """Return the edit that joins two anchors, with studs where they lie on conductors and on bars
    that have none free.

    Raise NotConnectable or NoPole.
    """
    wires = [anchor.conductor for anchor in (first, second) if isinstance(anchor, OnWire)]
    if len(set(wires)) < len(wires):
        raise NotConnectable(wires[0], wires[0])
    after, done, ends = diagram, Edit("", ()), []
    for anchor in (first, second):
        if isinstance(anchor, OnWire):
            stud, edit = _with_stud(after, anchor)
            after, done = apply(after, edit), merge(done, edit)
            ends.append((stud, "s"))
        elif isinstance(anchor, OnBar):
            terminal, edit = with_bar_stud(after, anchor)
            after, done = apply(after, edit), merge(done, edit)
            ends.append(terminal)
        else:
            ends.append(anchor)
    edit = _joined(after, ends[0], ends[1])
    return replace(merge(done, edit), label=_branch_title(wires) if wires else edit.label)


def _joined(diagram: Diagram, first: Terminal, second: Terminal) -> Edit:
    """Return the edit that connects two terminals, or leads an untraced conductor to the other."""
    for lost, found in ((first, second), (second, first)):
        if untraced_wire(diagram, lost) is not None:
            return traced_edit(diagram, lost, found)
    return connect_edit(diagram, first, second)


def lost_edit(diagram: Diagram, start: Anchor, at: Point) -> Edit:
    """Return the edit that draws a conductor from an anchor to where it was lost sight of.

    From an untraced end, move the end there. Raise NotConnectable or NoPole.
    """
    assert not isinstance(start, OnBar)  # a conductor goes to a bar's new stud, never from it
    if not isinstance(start, OnWire) and untraced_wire(diagram, start) is not None:
        x, y = diagram.components[start[0]].at or at
        return move_edit(diagram, [start[0]], at[0] - x, at[1] - y)
    after, done = diagram, Edit("", ())
    terminal = start
    if isinstance(start, OnWire):
        stud, done = _with_stud(diagram, start)
        after, terminal = apply(diagram, done), (stud, "s")
    assert not isinstance(terminal, OnWire | OnBar)
    end = new_untraced_end(after, terminal, at)
    step = setting(after, "", end)
    done, after = merge(done, step), apply(after, step)
    label = f"Draw an untraced conductor from {_called(start)}"
    joined = connect_edit(after, terminal, (end.id, "end"))
    return replace(merge(done, joined), label=label)


def _called(start: Anchor) -> str:
    if isinstance(start, OnBar):
        return start.component
    return start.conductor if isinstance(start, OnWire) else start[0]


def new_wire(edit: Edit) -> str:
    """Return the conductor that an edit of `join_edit` draws between its anchors."""
    return edit.changes[-1].id


def _with_stud(diagram: Diagram, anchor: OnWire) -> tuple[str, Edit]:
    """Return a new stud in a conductor and the edit that puts it there; raise NoPole."""
    wire = diagram.conductors[anchor.conductor]
    if len(wire.cores) > 1:
        raise NoPole(wire.id, "A stud")
    at = anchor.at()
    stud: Component = changed(
        new_component(diagram, "stud", at), at=at, parameters=_pole_of(wire))
    stud = in_its_place(diagram, stud)
    end = End(component=stud.id, terminal="s")
    cut = Cut(anchor.path, anchor.leg, at, end, end)
    return stud.id, cut_edit(diagram, _branch_title([wire.id]), stud, wire, cut,
                             supply_side(diagram, wire))


def _pole_of(wire: Conductor) -> dict[str, str]:
    """Return the pole of a stud in a conductor, as its field."""
    spec = catalogue()["stud"].field("pole")
    pole = "bonding" if wire.purpose == "bonding" else wire.cores[0]
    return {"pole": pole} if spec is not None and pole in spec.choices else {}


def _branch_title(wires: Sequence[str]) -> str:
    return _("Branch from {wires}").format(wires=_(" and ").join(wires))
