"""Drawing on from a part: the next one is put beside its free terminal and connected to it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from app.drafting.belonging import in_its_place
from app.drafting.parts import new_component, repathed
from app.drafting.wires import NotConnectable, connect_edit, cores_between, is_control
from app.drawing.conductors import is_drawn
from app.drawing.frame import drawing_area
from app.drawing.ground import Ground
from app.drawing.marks import Box, Point
from app.drawing.placing import PlacedPart, placed_part, placed_parts
from app.drawing.routing import RouteEnd, snapped
from app.typed import read_quantity
from app.words import _, within
from model.diagram import Component, Diagram, Size
from model.edits import Edit, apply, changed, merge, setting
from model.kinds import Kind, Port, catalogue, kind_of, port_of
from model.kinds.distribution import panel_ways, plain_way
from model.units import QuantityError, parse_size

Terminal = tuple[str, str]
REACHES_MM = (15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 65.0, 80.0, 100.0, 125.0)
ASIDE_MM = (0.0, 10.0, -10.0, 20.0, -20.0, 35.0, -35.0, 50.0, -50.0, 70.0, -70.0, 90.0,
            -90.0)
CLEAR_MM = 4.0
GROWTH_MM = 30.0
LEAD_MM = 10.0  # from the turn of a line to the terminal it enters
WIRE_GROUND_MM = 1.0


class Figures(Struct, frozen=True):
    """Size and length of a conductor as typed after a name, each None when not given."""

    size: Size | None = None
    length_m: float | None = None

    def fields(self) -> dict[str, Any]:
        """Return what is given, as fields of a conductor."""
        given = {"size": self.size, "length_m": self.length_m}
        return {name: value for name, value in given.items() if value is not None}


def read_line(text: str) -> tuple[str, Figures]:
    """Return the name and the figures of a line such as "fuse 16 mm2 1.2 m"; raise QuantityError.

    The first figure is the size, unless it bears a unit of length.
    """
    words = text.split()
    first = next((number for number, word in enumerate(words) if _is_figure(word)), len(words))
    figures: list[str] = []
    for word in words[first:]:
        if _is_figure(word) or not figures:
            figures.append(word)
        else:
            figures[-1] = f"{figures[-1]} {word}"
    if len(figures) > 2:
        raise QuantityError(text, "a size and a length")
    size = None
    if figures and not (len(figures) == 1 and is_length(figures[0])):
        standard, printed = parse_size(figures.pop(0))
        size = Size.read({"standard": standard, "text": printed})
    length_m = read_quantity(figures[0], "m") if figures else None
    return " ".join(words[:first]), Figures(size, length_m)


def _is_figure(word: str) -> bool:
    return word[0].isdigit() or (word[0] in ".," and word[1:2].isdigit())


def is_length(text: str) -> bool:
    """Say whether a figure bears a unit, and that of a length."""
    if text.strip()[-1:].isdigit():
        return False
    try:
        read_quantity(text, "m")
    except QuantityError:
        return False
    return True


def free_terminals(diagram: Diagram, part: str) -> tuple[str, ...]:
    """Return the ports of a part from which one would draw on, the likeliest first.

    Free ones come before taken ones, power before signals, the positive before the negative.
    """
    component = with_a_free_way(diagram, part)
    taken = Counter(end.terminal for wire in diagram.conductors.values()
                    for end in wire.ends() if end.component == part)
    ports = kind_of(component).ports(component.parameters)
    order = {port.id: number for number, port in enumerate(ports)}
    return tuple(port.id for port in sorted(ports, key=lambda port: (
        taken[port.id], "signal" in port.poles, "+" not in port.poles and "L" not in port.poles,
        order[port.id])))


def with_a_free_way(diagram: Diagram, part: str) -> Component:
    """Return a part with one more way when it is a panel whose ways are all taken."""
    component = diagram.components[part]
    if kind_of(component).field("ways") is None:
        return component
    taken = {end.terminal for wire in diagram.conductors.values()
             for end in wire.ends() if end.component == part}
    ports = kind_of(component).ports(component.parameters)
    ways = [port.id for port in ports if port.id.startswith("w")]
    if not ways or not set(ways) <= taken:
        return component
    number = next(n for n in range(1, len(ways) + 2) if f"w{n}" not in ways)
    rows = (*panel_ways(component.parameters, component.kind),
            plain_way(number, component.kind))
    made: Component = changed(component, parameters={**component.parameters, "ways": rows})
    return made


class NextPart(Struct, frozen=True):
    """The edit that places and connects, with the new part and the new conductor."""

    edit: Edit
    part: str
    wire: str


def next_part_edit(
    diagram: Diagram, start: Terminal, kind_slug: str, figures: Figures
) -> NextPart:
    """Return the edit that places a part beside a terminal and connects it; raise NotConnectable.

    A load on a panel's way is drawn in the row of the way.
    """
    kind = catalogue()[kind_slug]
    owner = _with_port(diagram, *start)
    first = port_of(owner, start[1])
    if first is None:
        raise NotConnectable(f"{start[0]}, {start[1]}", kind.title)
    component = _with_pole_of(first, new_component(diagram, kind_slug, (0.0, 0.0)))
    second = entry(first, kind.ports(component.parameters))
    if second is None:
        raise NotConnectable(f"{start[0]}, {start[1]}", kind.title.lower())
    component = component.replaced(place=owner.place)
    if _is_row(owner, start[1], kind):
        component = component.replaced(at=None, row_of=f"{start[0]}.{start[1]}")
    else:
        stood = beside(diagram, start, component, second.id) or component.replaced(at=None)
        component = in_its_place(diagram, stood)
    label = _("Place {kind} {part} on {start}").format(
        kind=within(kind.title), part=component.id, start=start[0])
    step = merge(_grown(diagram, owner), setting(diagram, label, component))
    after = apply(diagram, step)
    joined = connect_edit(after, start, (component.id, second.id))
    wire = joined.changes[0]
    done = merge(step, joined)
    if figures.fields():
        after = apply(after, joined)
        sized = changed(after.conductors[wire.id], **figures.fields())
        done = merge(done, setting(after, label, sized))
    done = merge(done, _round_a_grown_part(diagram, apply(diagram, done), owner.id))
    return NextPart(replace(done, label=label), component.id, wire.id)


def _round_a_grown_part(before: Diagram, after: Diagram, part: str) -> Edit:
    """Return the edit that leads conductors round a panel that a row has made larger."""
    old, parts = placed_parts(before), placed_parts(after)
    if part not in parts or parts[part].body == old[part].body:
        return setting(after, "")
    wires = [repathed(after, parts, wire, {part}, None) for wire in after.conductors.values()
             if is_drawn(wire, parts) and part in {end.component for end in wire.ends()}]
    return setting(after, "", *wires)


def join_next_edit(
    diagram: Diagram, start: Terminal, part: str, port: str, figures: Figures
) -> Edit:
    """Return the edit that connects a terminal to a part: to its port, or to one that fits best.

    Of those that fit the free ones come first. Raise NotConnectable.
    """
    owner, grown = _with_port(diagram, *start), with_a_free_way(diagram, part)
    first = port_of(owner, start[1])
    ports = [found for name in ((port,) if port else free_terminals(diagram, part))
             if (found := port_of(grown, name)) is not None]
    second = None if first is None else entry(first, ports)
    if second is None:
        raise NotConnectable(f"{start[0]}, {start[1]}", part)
    target = _with_port(diagram, part, second.id)
    step = _grown(diagram, owner, target)
    joined = connect_edit(apply(diagram, step), start, (part, second.id))
    wire = joined.changes[0].after
    assert wire is not None
    return replace(merge(setting(diagram, "", changed(wire, **figures.fields())), step),
                   label=joined.label)


def _with_port(diagram: Diagram, part: str, port: str) -> Component:
    """Return a part that has the port: as it is, else with one more way."""
    component = diagram.components[part]
    return component if port_of(component, port) is not None else with_a_free_way(diagram, part)


def _grown(diagram: Diagram, *parts: Component) -> Edit:
    """Return the edit that puts the parts that got a way more."""
    return setting(diagram, "", *(part for part in parts
                                  if part is not diagram.components[part.id]))


def _is_row(owner: Component, port: str, kind: Kind) -> bool:
    return owner.kind in ("panel", "fuse_block") and port.startswith("w") and kind.role == "load"


def _with_pole_of(first: Port, component: Component) -> Component:
    """Return a bar, stud or shunt as one of the pole it is drawn on from."""
    for name in ("pole", "poles"):
        spec = kind_of(component).field(name)
        pole = next(iter(first.poles))
        is_bar = name == "pole" or component.kind == "shunt"
        if spec is not None and is_bar and pole in spec.choices and len(set(first.poles)) == 1:
            component = changed(component, parameters={name: pole})
    return component


def entry(first: Port, ports: Iterable[Port]) -> Port | None:
    """Return the port of a part by which one would enter it from another port, or None."""
    fit = [port for port in ports if cores_between(first, port) and (
        port.poles.keys() & first.poles.keys() or is_control(port) or is_control(first))]
    return max(fit, key=lambda port: len(port.poles.keys() & first.poles.keys()) * 2
               - ("signal" in port.poles and "signal" not in first.poles), default=None)


def beside(
    diagram: Diagram, start: Terminal, component: Component, port: str
) -> Component | None:
    """Return the part standing free, its port near a terminal and facing it where it can.

    On a full sheet it comes to stand where it would without the others; None when the terminal's
    part is not drawn.
    """
    parts = placed_parts(diagram)
    row = (diagram.components[start[0]].row_of or "").partition(".")
    where = start if start[0] in parts else (row[0], row[2])
    if where[0] not in parts:
        return None
    ground, area = _ground(diagram, parts), drawing_area(diagram.sheet)
    spots = list(_spots(parts[where[0]].port(where[1]), component, port))
    for spot in spots:
        placed = placed_part(spot)
        if placed is None:
            continue
        body = placed.body
        if kind_of(component).field("ways") is not None:  # it grows with its ways and their names
            body = Box(body.x0, body.y0, body.x1 + GROWTH_MM, body.y1 + GROWTH_MM)
        inside = area.holds(body.x0, body.y0) and area.holds(body.x1, body.y1)
        if inside and ground.taken_mm2(body.grown(CLEAR_MM)) == 0:
            return spot
    return spots[0] if spots else None


def _ground(diagram: Diagram, parts: Mapping[str, PlacedPart]) -> Ground:
    ground = Ground()
    for part in parts.values():
        ground.take(part.body)
    for wire in diagram.conductors.values():
        if wire.path is not None:
            ground.take_line(wire.path.points, WIRE_GROUND_MM)
    return ground


def _spots(end: RouteEnd, component: Component, port: str) -> Iterator[Component]:
    """Yield places for a part: the way the terminal faces first, nearer ones and those straight on
    before others.
    """
    facing = [end.direction] if end.direction != (0, 0) else [(0, 1), (1, 0), (0, -1), (-1, 0)]
    others = [way for way in ((1, 0), (-1, 0), (0, 1), (0, -1)) if way not in facing]
    for ways in (facing, others):
        for reach in REACHES_MM:
            for aside in ASIDE_MM:
                for way in ways:
                    yield from _turned_spots(end.at, way, reach, aside, component, port)


def _turned_spots(
    at: Point, way: tuple[int, int], reach: float, aside: float, component: Component, port: str
) -> Iterator[Component]:
    """Yield a part beside a point; an in-line part is turned so that its port faces back."""
    dx, dy = way
    for turn in (0, 270, 90, 180) if kind_of(component).inline else (component.turn,):
        shape = placed_part(component.replaced(at=(0.0, 0.0), turn=turn))
        if shape is None:
            return
        own = shape.port(port)
        faces = own.direction in ((-dx, -dy), (0, 0))
        if kind_of(component).inline and not faces:
            continue
        lead = 0.0 if faces else LEAD_MM
        x = at[0] + dx * reach + dy * aside - own.direction[0] * lead - own.at[0]
        y = at[1] + dy * reach + dx * aside - own.direction[1] * lead - own.at[1]
        yield component.replaced(at=(snapped(x), snapped(y)), turn=turn)
