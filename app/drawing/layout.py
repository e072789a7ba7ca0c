"""Places for components that have none: power falls from sources through buses to loads.

A first layout only, so that a boat written as text can be read at once: rows by the distance
from the nearest source, columns by the average of the neighbours above. What already has a place
is not moved. Where the paper is too small the next larger one is taken.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Mapping

from app.drawing.frame import ground_box
from app.drawing.marks import Box
from app.drawing.placing import placed_part
from app.drawing.routing import snapped
from model.diagram import Component, Diagram
from model.edits import Edit, changed, setting
from model.kinds import kind_of

ROW_GAP_MM = 15.0
COLUMN_GAP_MM = 25.0
TOP_MM, LEFT_MM = 30.0, 35.0
LARGER: Mapping[str, str] = {"A4": "A3", "A3": "A2", "Letter": "Tabloid", "Tabloid": "A2"}


def layout_edit(diagram: Diagram) -> Edit | None:
    """Return the edit that gives every unplaced component a place, or None when all have one."""
    loose = [c for c in diagram.components.values() if c.at is None and c.row_of is None]
    if not loose:
        return None
    size: str = diagram.sheet.size
    placed, bottom = _placed(diagram, loose, ground_box(size))
    while bottom > ground_box(size).y1 and size in LARGER:
        size = LARGER[size]
        placed, bottom = _placed(diagram, loose, ground_box(size))
    sheet = (changed(diagram.sheet, size=size),) if size != diagram.sheet.size else ()
    return setting(diagram, "Lay out parts", *placed, *sheet)


def _placed(
    diagram: Diagram, loose: list[Component], inside: Box
) -> tuple[list[Component], float]:
    """Return the components placed in rows, and how far down they and their wires reach. [mm]."""
    top = max((box.y1 + ROW_GAP_MM for box in _bodies(diagram)), default=inside.y0 + TOP_MM)
    placed = []
    for row in _rows(loose, _neighbours(diagram)):
        x, height = inside.x0 + LEFT_MM - COLUMN_GAP_MM, 0.0
        for component in row:
            body = _body_at_origin(component)
            if x + body.w + COLUMN_GAP_MM > inside.x1 and height:
                x, top, height = inside.x0 + LEFT_MM - COLUMN_GAP_MM, top + height + ROW_GAP_MM, 0.0
            at = (snapped(x + COLUMN_GAP_MM / 2 - body.x0), snapped(top - body.y0))
            placed.append(changed(component, at=at))
            x += body.w + COLUMN_GAP_MM
            height = max(height, body.h)
        top += height + ROW_GAP_MM
    return placed, top


def _bodies(diagram: Diagram) -> Iterable[Box]:
    for component in diagram.components.values():
        part = placed_part(component)
        if part is not None:
            yield part.body


def _body_at_origin(component: Component) -> Box:
    part = placed_part(changed(component, at=(0, 0)))
    assert part is not None
    return part.body


def _neighbours(diagram: Diagram) -> Mapping[str, set[str]]:
    found: dict[str, set[str]] = {item: set() for item in diagram.components}
    for conductor in diagram.conductors.values():
        a, b = conductor.start.component, conductor.finish.component
        found[a].add(b)
        found[b].add(a)
    return found


def _rows(loose: list[Component], neighbours: Mapping[str, set[str]]) -> list[list[Component]]:
    """Return the components in rows by their distance from a source, negatives last."""
    depth = _depths(loose, neighbours)
    rows: dict[int, list[Component]] = {}
    for component in loose:
        rows.setdefault(depth[component.id], []).append(component)
    column: dict[str, float] = {}
    ordered = []
    for number in sorted(rows):
        row = sorted(rows[number], key=lambda c: (_mean(neighbours[c.id], column), c.id))
        column.update({c.id: i for i, c in enumerate(row)})
        ordered.append(row)
    return ordered


def _mean(ids: Iterable[str], column: Mapping[str, float]) -> float:
    known = [column[item] for item in ids if item in column]
    return sum(known) / len(known) if known else 1e6


def _depths(loose: list[Component], neighbours: Mapping[str, set[str]]) -> dict[str, int]:
    by_id = {component.id: component for component in loose}
    starts = [c.id for c in loose if kind_of(c).role in ("source", "storage")]
    depth = dict.fromkeys(starts, 0)
    queue = deque(starts)
    while queue:
        here = queue.popleft()
        if _is_negative(by_id[here]):
            continue
        for other in neighbours[here]:
            if other in by_id and other not in depth:
                depth[other] = depth[here] + 1
                queue.append(other)
    deepest = max(depth.values(), default=0)
    for component in loose:
        depth.setdefault(component.id, deepest + 1)
        if _is_negative(component):
            depth[component.id] = deepest + 2
    return depth


def _is_negative(component: Component) -> bool:
    return component.parameters.get("pole") == "-" or kind_of(component).role in ("earth", "engine")
