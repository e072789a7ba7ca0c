"""The edits: the whole sheet laid out anew, or a few parts placed among the others."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence

from app.drawing.conductors import conductor_ends, is_drawn, look_of, routed_anew
from app.drawing.frame import ground_box
from app.drawing.placing import placed_parts
from app.drawing.route_prices import Segment
from app.drawing.routing_together import Wanted, crossings_of, routed_together
from app.drawing.sheet import sheet_drawing
from app.drawing.tidy.among import among
from app.drawing.tidy.draft import Draft
from app.drawing.tidy.outlines import outlined
from app.drawing.tidy.paper import drafts
from app.drawing.tidy.rows import with_rows
from app.words import _
from model.diagram import Component, Conductor, Diagram, SheetPath
from model.edits import Edit, changed, setting

MOST_TRIES = 4
PLACE_PULLS = (0.1, 0.3, 0.6)
CROWDED, LOST, BEND = 100.0, 3.0, 0.25  # in crossings
THROWS, SMALL = 5, 35  # a small sheet is laid out several times, the best is taken


def few_edit(diagram: Diagram) -> Edit:
    """Return the edit that places the loose parts and moves nothing else."""
    components = with_rows(diagram)
    diagram_in_rows = diagram.replaced(components=components)
    loose = [c for c in components.values() if c.at is None and c.row_of is None]
    size, placed = among(diagram_in_rows, loose)
    after = diagram_in_rows.replaced(components=components.with_items((c.id, c) for c in placed))
    parts = placed_parts(after)
    ids = {c.id for c in placed}
    wires = [wire for wire in after.conductors.values() if is_drawn(wire, parts)
             and ids & {end.component for end in wire.ends()}]
    kept = {wire.id: wire.path.points for wire in after.conductors.values()
            if wire.path is not None and is_drawn(wire, parts)}
    paths = routed_anew(after, parts, wires, kept)
    rows = [c for c in components.values() if c != diagram.components[c.id]]
    sheet = (changed(diagram.sheet, size=size),) if size != diagram.sheet.size else ()
    return setting(diagram, _("Lay out parts"), *rows, *placed, *sheet, *(
        changed(wire, path=SheetPath(points=paths[wire.id])) for wire in wires))


def whole_edit(diagram: Diagram, title: str) -> Edit:
    """Return the edit that lays out everything, on larger paper where it must be."""
    before = diagram
    diagram = diagram.replaced(components=with_rows(diagram))
    drawn = {item: c for item, c in diagram.components.items() if c.row_of is None}
    if any(place.outline for place in diagram.places.values()):
        ways = [(pull, 0) for pull in PLACE_PULLS]
    else:
        ways = [(0.0, throw) for throw in range(THROWS if len(drawn) <= SMALL else 1)]
    after = min((_clearest(diagram, drawn, *way) for way in ways), key=_faults)
    changes = [value for collection in ("components", "conductors", "places")
               for item, value in getattr(after, collection).items()
               if value != getattr(before, collection)[item]]
    sheet = (after.sheet,) if after.sheet != before.sheet else ()
    return setting(before, title, *changes, *sheet)


def _clearest(
    diagram: Diagram, drawn: Mapping[str, Component], place_pull: float, throw: int
) -> Diagram:
    """Return the first draft laid out whose lettering all finds free ground, or the one with most.
    """
    best, least = None, math.inf
    for size, draft in itertools.islice(drafts(diagram, drawn, place_pull, throw), MOST_TRIES):
        laid = _laid(diagram, size, draft)
        crowded = _crowded(laid)
        if crowded < least:
            best, least = laid, crowded
        if not crowded:
            break
    assert best is not None
    return best


def _crowded(diagram: Diagram) -> int:
    return sum(label.crowded for label in sheet_drawing(diagram).labels.values())


def _faults(diagram: Diagram) -> float:
    """Return what speaks against a sheet: crowded lettering, lost outlines, crossings, bends."""
    paths = {wire.id: wire.path.points for wire in diagram.conductors.values()
             if wire.path is not None}
    crossings = sum(crossings_of(item, paths) for item in paths) / 2
    lost = sum(place.outline is None for place in diagram.places.values())
    bends = sum(len(path) - 2 for path in paths.values())
    return CROWDED * _crowded(diagram) + LOST * lost + crossings + BEND * bends


def _laid(diagram: Diagram, size: str, draft: Draft) -> Diagram:
    """Return the diagram with everything where the draft says, and every conductor routed."""
    after: Diagram = diagram.replaced(
        components=diagram.components.with_items(draft.components.items()),
        sheet=changed(diagram.sheet, size=size))
    wires = _repathed(after, draft.runs)
    after = after.replaced(conductors=after.conductors.with_items((w.id, w) for w in wires))
    if not any(place.outline for place in after.places.values()):
        return after
    bare = {item: changed(place, outline=None) for item, place in after.places.items()}
    drawing = sheet_drawing(after.replaced(places=after.places.with_items(bare.items())))
    places = outlined(after, drawing, ground_box(size))
    return after.replaced(places=after.places.with_items((p.id, p) for p in places))


def _repathed(
    diagram: Diagram, runs: Mapping[str, tuple[Segment, ...]]
) -> list[Conductor]:
    """Return every drawn conductor with a new path and its lettering free."""
    parts = placed_parts(diagram)
    wanted = {}
    for wire in diagram.conductors.values():
        if is_drawn(wire, parts):
            start, finish = conductor_ends(wire, parts)
            own = runs.get(wire.id, ())
            upward = own and abs(own[0][0][1] - start.at[1]) > abs(own[0][0][1] - finish.at[1])
            wanted[wire.id] = Wanted(
                start, finish, look_of(wire).role, _backwards(own) if upward else own)
    bodies = [*(part.body.as_tuple() for part in parts.values()), *_edges(diagram.sheet.size)]
    paths = routed_together(wanted, bodies, {})
    return [changed(diagram.conductors[item], path=SheetPath(points=path), label_at=None)
            for item, path in paths.items()]


def _backwards(runs: Sequence[Segment]) -> tuple[Segment, ...]:
    return tuple((b, a) for a, b in reversed(runs))


def _edges(size: str) -> list[tuple[float, float, float, float]]:
    """Return walls round the ground, for no conductor to leave it."""
    x0, y0, x1, y1 = ground_box(size).as_tuple()
    far = 2000.0
    return [(x0 - far, y0 - far, x0, y1 + far), (x1, y0 - far, x1 + far, y1 + far),
            (x0 - far, y0 - far, x1 + far, y0), (x0 - far, y1, x1 + far, y1 + far)]
