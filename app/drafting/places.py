"""Edits of places: draw one round parts, size it, move it with what stands in it, name it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from msgspec.structs import replace

from app.drafting.belonging import Point, holds, in_its_place, place_at
from app.drafting.parts import move_edit, set_title
from app.drawing.marks import Box
from app.drawing.routing import snapped
from app.words import _
from model.diagram import Diagram, Place
from model.edits import Edit, apply, changed, merge, setting
from model.naming import fresh_ids

SMALLEST_MM = 10.0


def box_on_grid(a: Point, b: Point) -> Box:
    """Return the box between two points, on the grid and no smaller than a place can be."""
    x0, x1 = sorted((snapped(a[0]), snapped(b[0])))
    y0, y1 = sorted((snapped(a[1]), snapped(b[1])))
    return Box(x0, y0, max(x1, x0 + SMALLEST_MM), max(y1, y0 + SMALLEST_MM))


def outline_of(box: Box) -> tuple[Point, ...]:
    """Return the corners of a box, from the top left on."""
    return ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1))


def new_place_edit(diagram: Diagram, box: Box) -> Edit:
    """Return the edit that draws a place; the parts in it belong to it from now on."""
    (item,) = fresh_ids(["Z"], diagram)
    name, label = _("Place {number}").format(number=item[1:]), _("Draw place {item}")
    place = Place(id=item, name=name, outline=outline_of(box))
    return _with_members(diagram, setting(diagram, label.format(item=item), place), {item})


def size_place_edit(diagram: Diagram, item: str, box: Box) -> Edit:
    """Return the edit that gives a place another rectangle, with the parts in it then."""
    place = changed(diagram.places[item], outline=outline_of(box), name_at=None)
    return _with_members(diagram, setting(diagram, _("Size place {item}").format(
        item=place.name or item), place),
                         {item})


def _with_members(diagram: Diagram, edit: Edit, drawn: set[str]) -> Edit:
    """Return the edit with the parts that come to stand in these places, or no more do."""
    after = apply(diagram, edit)
    values = []
    for component in after.components.values():
        if component.at is None:
            continue
        place = place_at(after, component.at)
        was_in = place_at(diagram, component.at)
        if place is not None and (place.id in drawn or was_in is not place):
            own = in_its_place(after, component)
        elif component.place in drawn and was_in is not None and place is None:
            own = changed(component, place=None)
        else:
            continue
        if own is not component:
            values.append(own)
    return replace(merge(edit, setting(after, edit.label, *values)), label=edit.label)


def members(diagram: Diagram, item: str) -> frozenset[str]:
    """Return the parts that stand in a place's outline and belong to it or a place within it."""
    outline = diagram.places[item].outline or ()
    inner = {item, *inner_places(diagram, item)}
    return frozenset(
        part.id for part in diagram.components.values()
        if part.at is not None and outline and holds(outline, part.at) and part.place in inner)


def inner_places(diagram: Diagram, item: str) -> frozenset[str]:
    """Return the places whose outlines lie wholly within another's."""
    outline = diagram.places[item].outline
    if not outline:
        return frozenset()
    return frozenset(
        place.id for place in diagram.places.values()
        if place.id != item and place.outline and all(holds(outline, at) for at in place.outline))


def move_place_edit(diagram: Diagram, item: str, dx: float, dy: float) -> Edit:
    """Return the edit that moves a place, the places within it and all their parts."""
    step = (snapped(dx), snapped(dy))
    places = []
    for name in (item, *sorted(inner_places(diagram, item))):
        place = diagram.places[name]
        fields: dict[str, Any] = {"outline": _shifted(place.outline or (), step)}
        if place.name_at is not None:
            fields["name_at"] = _shifted((place.name_at,), step)[0]
        places.append(changed(place, **fields))
    label = _("Move place {item}").format(item=diagram.places[item].name or item)
    parts = move_edit(diagram, members(diagram, item), *step)
    after = apply(diagram, parts)
    kept = [part.replaced(place=diagram.components[part.id].place)
            for part in after.components.values()
            if part.place != diagram.components[part.id].place]
    done = merge(parts, setting(after, label, *places, *kept))
    return replace(done, label=label)


def _shifted(points: Iterable[Point], step: Point) -> tuple[Point, ...]:
    return tuple((x + step[0], y + step[1]) for x, y in points)


def place_field_edit(diagram: Diagram, item: str, field: str, value: Any) -> Edit:
    """Return the edit that sets one field of a place; None makes it unknown again."""
    place = changed(diagram.places[item], **{field: value})
    title = field.removesuffix("_c").replace("_", " ")
    return setting(diagram, set_title(title, place.name or item), place,
                   merge_key=f"{item}.{field}")
