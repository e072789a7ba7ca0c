"""The edits that give parts their places: of the whole sheet, or of the few that have none."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from app.drawing.conductors import conductor_ends, is_drawn
from app.drawing.frame import ground_box
from app.drawing.placing import placed_parts
from app.drawing.route_prices import Segment
from app.drawing.routing_together import Wanted, routed_together
from app.drawing.tidy.rows import with_rows
from app.drawing.tidy.sheet import Draft, fitted, unfitted
from model.diagram import Component, Conductor, Diagram, SheetPath
from model.edits import Edit, changed, setting

LARGER: Mapping[str, str] = {"A4": "A3", "A3": "A2", "Letter": "Tabloid", "Tabloid": "A2"}


def tidy_edit(diagram: Diagram) -> Edit | None:
    """Return the edit that lays out the whole sheet anew, or None when nothing stands on it."""
    return _whole(diagram, "Tidy the sheet") if diagram.components else None


def layout_edit(diagram: Diagram) -> Edit | None:
    """Return the edit that gives every unplaced component a place, or None when all have one."""
    loose = [c for c in diagram.components.values() if c.at is None and c.row_of is None]
    if not loose:
        return None
    return _whole(diagram, "Lay out parts")


def _whole(diagram: Diagram, title: str) -> Edit:
    components = with_rows(diagram)
    drawn = {item: c for item, c in components.items() if c.row_of is None}
    size, draft = _on_paper(diagram.replaced(components=components), drawn)
    sheet = (changed(diagram.sheet, size=size),) if size != diagram.sheet.size else ()
    after = diagram.replaced(components=components.with_items(draft.components.items()))
    moved = [after.components[item] for item, c in diagram.components.items()
             if after.components[item] != c]
    return setting(diagram, title, *moved, *_repathed(after.replaced(sheet=changed(diagram.sheet, size=size)), draft.runs), *sheet)


def _on_paper(
    diagram: Diagram, drawn: Mapping[str, Component]
) -> tuple[str, Draft]:
    """Return the paper that the whole fits on, and where everything is on it."""
    size: str = diagram.sheet.size
    while (draft := fitted(diagram, drawn, size)) is None:
        if size not in LARGER:
            return size, unfitted(diagram, drawn)
        size = LARGER[size]
    return size, draft


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
            wanted[wire.id] = Wanted(start, finish, _backwards(own) if upward else own)
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
