"""Places drawn anew round the parts that now stand in them, where that can be done truthfully.

A place is a rectangle round its parts, or a stair of them, that holds no part of another place
and meets no other place's outline; one may lie wholly in another. Where no such outline is found
the place is left without one: a tint that covers the wrong parts would say something untrue.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from app.drawing.fonts import text_box
from app.drawing.ground import Ground
from app.drawing.marks import Box, Point
from app.drawing.places import place_name
from app.drawing.sheet import SheetDrawing
from model.diagram import Diagram, Place
from model.edits import changed

ROUND_MM, NAME_ROOM_MM, LEAST_JOINT_MM = 4.0, 8.0, 10.0
INNER_MM = 2.0  # round a place within another
STEP_MM = 2.5

Stair = tuple[Box, ...]  # from the top down, each standing on the next


def outlined(diagram: Diagram, drawing: SheetDrawing, inside: Box) -> list[Place]:
    """Return the places that had an outline, each with a new one or none.

    The drawing is of the diagram without any outline.
    """
    stairs: dict[str, Stair] = {}
    lived_in = {part.component.place for part in drawing.parts.values()}
    wanted = [place for place in diagram.places.values() if place.outline and place.id in lived_in]
    boxes = {item: _box_of(drawing, item) for item in drawing.parts}
    for place in sorted(wanted, key=lambda p: (_size(_own(boxes, drawing, p.id)), p.id)):
        stair = _stair(place, diagram.places, boxes, drawing, stairs, inside)
        if stair is not None:
            stairs[place.id] = stair
    ground = _taken(drawing)
    return [_named(place, stairs.get(place.id), ground) for place in diagram.places.values()
            if place.outline]


def _box_of(drawing: SheetDrawing, item: str) -> Box:
    """Return the box round a part and its lettering."""
    box = drawing.parts[item].body
    if item in drawing.labels:
        for line in drawing.labels[item].boxes():
            box = box.joined(line)
    return box


def _own(boxes: Mapping[str, Box], drawing: SheetDrawing, place: str) -> list[Box]:
    return [box.grown(ROUND_MM) for item, box in boxes.items()
            if drawing.parts[item].component.place == place]


def _size(boxes: Iterable[Box]) -> float:
    hull = _hull(boxes)
    return hull.w * hull.h


def _hull(boxes: Iterable[Box]) -> Box:
    listed = list(boxes)
    hull = listed[0]
    for box in listed[1:]:
        hull = hull.joined(box)
    return hull


def _stair(
    place: Place, places: Mapping[str, Place], boxes: Mapping[str, Box], drawing: SheetDrawing,
    stairs: Mapping[str, Stair], inside: Box,
) -> Stair | None:
    """Return the first outline that holds what it should and nothing else."""
    own = _own(boxes, drawing, place.id)
    for other, its in stairs.items():
        if _was_in(places[other], place):
            own += [step.grown(INNER_MM) for step in its]
    hull = _hull(own)
    steps = _steps(own)
    tries: list[Stair] = [(_with_head(hull),), (hull,)]
    if steps is not None:
        tries += [(_with_head(steps[0]), *steps[1:]), steps]
    for stair in tries:
        within = {other for other, its in stairs.items() if _lies_in(its, stair)}
        foreign = [box for item, box in boxes.items()
                   if drawing.parts[item].component.place not in {place.id, *within}]
        others = [step for other, its in stairs.items() if other not in within for step in its]
        if all(_holds(inside, step) and not any(step.meets(box) for box in (*foreign, *others))
               for step in stair):
            return stair
    return None


def _was_in(inner: Place, outer: Place) -> bool:
    """Say whether one place was drawn within the other."""
    boxes = [Box(min(xs), min(ys), max(xs), max(ys))
             for xs, ys in (zip(*(place.outline or ((0.0, 0.0),)), strict=True)
                            for place in (inner, outer))]
    return _holds(boxes[1], boxes[0])


def _with_head(box: Box) -> Box:
    """Return the box with room for a name over what is in it."""
    return Box(box.x0, box.y0 - NAME_ROOM_MM + ROUND_MM / 2, box.x1, box.y1)


def _steps(own: Sequence[Box]) -> Stair | None:
    """Return the boxes joined to steps that stand on one another, or None where they do not."""
    steps: list[Box] = []
    for box in sorted(own, key=lambda box: box.y0):
        if steps and box.y0 < steps[-1].y1:
            steps[-1] = steps[-1].joined(box)
        else:
            steps.append(box)
    for i in range(len(steps) - 1):
        upper, lower = steps[i], steps[i + 1]
        if min(upper.x1, lower.x1) - max(upper.x0, lower.x0) < LEAST_JOINT_MM:
            return None
        middle = (upper.y1 + lower.y0) / 2
        steps[i] = Box(upper.x0, upper.y0, upper.x1, middle)
        steps[i + 1] = Box(lower.x0, middle, lower.x1, lower.y1)
    return tuple(steps)


def _lies_in(inner: Stair, outer: Stair) -> bool:
    return all(any(_holds(step, box) for step in outer) for box in inner)


def _holds(outer: Box, inner: Box) -> bool:
    return outer.joined(inner) == outer


def _corners(stair: Stair) -> tuple[Point, ...]:
    """Return the right-angled outline of a stair, clockwise."""
    right = [point for step in stair for point in ((step.x1, step.y0), (step.x1, step.y1))]
    left = [point for step in stair[::-1] for point in ((step.x0, step.y1), (step.x0, step.y0))]
    return (*right, *left)


def _taken(drawing: SheetDrawing) -> Ground:
    ground = Ground()
    for item in drawing.parts:
        ground.take(drawing.parts[item].body.grown(1.0))
    for path in drawing.paths.values():
        ground.take_line(path, 3.0)
    for label in drawing.labels.values():
        for box in label.boxes():
            ground.take(box.grown(0.6))
    return ground


def _named(place: Place, stair: Stair | None, ground: Ground) -> Place:
    """Return the place with its outline and its name on free ground, or with neither."""
    bare: Place = changed(place, outline=None, name_at=None)
    if stair is None:
        return bare
    shaped: Place = changed(place, outline=_corners(stair))
    for spot in _spots(stair, shaped):
        named: Place = changed(shaped, name_at=spot)
        if ground.is_free(text_box(place_name(named)).grown(0.6).as_tuple()):
            ground.take(text_box(place_name(named)))
            return named
    return bare


def _spots(stair: Stair, place: Place) -> Iterable[Point]:
    """Yield where a name may begin, row by row from the top left."""
    width = text_box(place_name(changed(place, name_at=(0.0, 0.0)))).w
    for step in stair:
        for down in range(int((step.h - 5.0) // STEP_MM) + 1):
            for along in range(int((step.w - 6.0 - width) // STEP_MM) + 1):
                yield (step.x0 + 3.0 + along * STEP_MM, step.y0 + 4.5 + down * STEP_MM)
