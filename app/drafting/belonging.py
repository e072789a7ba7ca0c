"""Which place a part belongs to: the innermost outline it stands in on the sheet.

Where there is no outline, what the owner said of a part's place stays.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from model.diagram import Component, Diagram, Place
from model.edits import changed

Point = tuple[float, float]


def holds(outline: Sequence[Point], at: Point) -> bool:
    """Say whether a point lies within an outline: a line to the right crosses it oddly often."""
    x, y = at
    crossings = 0
    for (ax, ay), (bx, by) in pairwise((*outline, outline[0])):
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            crossings += 1
    return crossings % 2 == 1


def area_mm2(outline: Sequence[Point]) -> float:
    """Return the area within an outline. [mm2]"""
    twice = sum(ax * by - bx * ay for (ax, ay), (bx, by) in pairwise((*outline, outline[0])))
    return abs(twice) / 2


def place_at(diagram: Diagram, at: Point) -> Place | None:
    """Return the smallest place whose outline holds a point, or None."""
    found = [place for place in diagram.places.values()
             if place.outline and holds(place.outline, at)]
    return min(found, key=lambda place: area_mm2(place.outline or ()), default=None)


def in_its_place(diagram: Diagram, component: Component) -> Component:
    """Return the part as belonging to the place it stands in."""
    if component.at is None:
        return component
    place = place_at(diagram, component.at)
    if place is None or place.id == component.place:
        return component
    made: Component = changed(component, place=place.id)
    return made


def come_from(diagram: Diagram, before: Component, after: Component) -> Component:
    """Return a part that moved, in the place it came to; out of all it leaves its old one."""
    if before.at is None or after.at is None:
        return after
    old, new = place_at(diagram, before.at), place_at(diagram, after.at)
    if old is new:
        return after
    if new is None and (old is None or after.place != old.id):
        return after
    made: Component = changed(after, place=new.id if new is not None else None)
    return made
