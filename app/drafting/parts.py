"""Edits of parts: place, move, turn, mirror, set a field."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, Literal

from app.drafting.belonging import come_from, in_its_place
from app.drawing.conductors import conductor_ends, is_drawn, routed_anew
from app.drawing.placing import PlacedPart, placed_parts
from app.drawing.routing import snapped, with_ends_moved
from app.words import _, within
from model.diagram import Component, Conductor, Diagram, Known, SheetPath
from model.edits import Edit, changed, setting
from model.kinds import catalogue, kind_of
from model.naming import fresh_ids

Point = tuple[float, float]


def new_component(diagram: Diagram, kind_slug: str, at: Point, turn: int = 0) -> Component:
    """Return a component of the kind at a point of the grid, with an id of its own."""
    kind = catalogue()[kind_slug]
    (item,) = fresh_ids([kind.letter], diagram)
    return Component.read(
        {"id": item, "kind": kind_slug, "at": (snapped(at[0]), snapped(at[1])), "turn": turn}
    )


def place_edit(diagram: Diagram, kind_slug: str, at: Point, turn: int = 0) -> Edit:
    """Return the edit that puts a new part on the sheet."""
    component = in_its_place(diagram, new_component(diagram, kind_slug, at, turn))
    label = _("Place {kind} {part}").format(
        kind=within(catalogue()[kind_slug].title), part=component.id)
    return setting(diagram, label, component)


def move_edit(diagram: Diagram, items: Iterable[str], dx: float, dy: float) -> Edit:
    """Return the edit that moves parts by a step of the grid, their conductors with them."""
    chosen = {item for item in items if diagram.components[item].at is not None}
    step = (snapped(dx), snapped(dy))
    values = [_shifted(diagram, diagram.components[item], step) for item in sorted(chosen)]
    return with_conductors(diagram, named(_("Move {what}"), chosen), values, step)


def _shifted(diagram: Diagram, component: Component, step: Point) -> Component:
    assert component.at is not None
    moved: Component = changed(
        component, at=(component.at[0] + step[0], component.at[1] + step[1])
    )
    return come_from(diagram, component, moved)


def turn_along(dx: float, dy: float) -> Literal[0, 90, 180, 270]:
    """Return the turn that puts terminal a of an in-line part towards where a line comes from."""
    if abs(dx) > abs(dy):
        return 270 if dx > 0 else 90
    return 0 if dy >= 0 else 180


def turn_edit(diagram: Diagram, items: Iterable[str], by: int = 90) -> Edit:
    """Return the edit that turns each part about its own middle."""
    chosen = {item for item in items if diagram.components[item].at is not None}
    values = [
        changed(diagram.components[item], turn=(diagram.components[item].turn + by) % 360)
        for item in sorted(chosen)
    ]
    return with_conductors(diagram, named(_("Turn {what}"), chosen), values)


def mirror_edit(diagram: Diagram, items: Iterable[str]) -> Edit:
    """Return the edit that mirrors each part left to right."""
    chosen = {item for item in items if diagram.components[item].at is not None}
    values = [
        changed(diagram.components[item], mirrored=not diagram.components[item].mirrored)
        for item in sorted(chosen)
    ]
    return with_conductors(diagram, named(_("Mirror {what}"), chosen), values)


def named(title: str, items: Iterable[str]) -> str:
    """Return the title of a step that does the same to each of some parts."""
    listed = sorted(items)
    return title.format(what=listed[0] if len(listed) == 1
                        else _("{count} parts").format(count=len(listed)))


def set_title(title: str, what: str) -> str:
    """Return the title of the step that sets a field."""
    return _("Set {title} of {what}").format(title=title, what=what)


def with_conductors(
    diagram: Diagram, label: str, values: list[Component], step: Point | None = None
) -> Edit:
    """Return the edit of the parts and of the paths of the conductors that end on them."""
    components = diagram.components.with_items((value.id, value) for value in values)
    after = diagram.replaced(components=components)
    moved = {value.id for value in values}
    parts = placed_parts(after)
    wires = [
        wire for conductor in after.conductors.values()
        if is_drawn(conductor, parts)
        and (wire := repathed(after, parts, conductor, moved, step)) is not conductor
    ]
    return setting(diagram, label, *values, *wires)


def repathed(
    diagram: Diagram, parts: Mapping[str, PlacedPart], conductor: Conductor, moved: set[str],
    step: Point | None,
) -> Conductor:
    """Return the conductor with a path that fits moved ends, or the same when it has none."""
    on = [end.component in moved for end in conductor.ends()]
    if not any(on):
        return conductor
    start, finish = conductor_ends(conductor, parts)
    path = conductor.path
    if all(on) and step is not None and path is not None:
        points = tuple((x + step[0], y + step[1]) for x, y in path.points)
        return _pathed(conductor, points, path.by_hand)
    if path is not None and path.by_hand:
        kept = with_ends_moved(path.points, start, finish)
        if kept is not None:
            return _pathed(conductor, kept, True)
    return _pathed(conductor, routed(diagram, parts, conductor), False)


def _pathed(conductor: Conductor, points: tuple[Point, ...], by_hand: bool) -> Conductor:
    after: Conductor = changed(conductor, path=SheetPath(points=points, by_hand=by_hand))
    return after


def routed(
    diagram: Diagram, parts: Mapping[str, PlacedPart], conductor: Conductor
) -> tuple[Point, ...]:
    """Return a new route for a conductor among the parts and the stored paths of the others."""
    stored = {other.id: other.path.points for other in diagram.conductors.values()
              if other.path is not None and is_drawn(other, parts)}
    return routed_anew(diagram, parts, [conductor], stored, rounds=0)[conductor.id]


def field_edit(
    diagram: Diagram, component_id: str, field: str, value: Any, how_known: Known | None = None
) -> Edit:
    """Return the edit that sets one field of a part; None makes it unknown again."""
    component = diagram.components[component_id]
    spec = kind_of(component).field(field)
    title = within(spec.title) if spec is not None else field
    if spec is not None:
        parameters = component.parameters.with_item(field, value)
        known = component.known.with_item(field, how_known if value is not None else None)
        after = changed(component, parameters=parameters, known=known)
    else:
        after = changed(component, **{field: value})
    return setting(
        diagram, set_title(title, component_id), after, merge_key=f"{component_id}.{field}"
    )
