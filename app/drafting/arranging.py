"""Parts put in line with each other, or at even distances; all on the grid."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from math import ceil, floor
from typing import Literal

from app.drafting.belonging import come_from
from app.drafting.parts import Point, with_conductors
from app.drawing.marks import Box
from app.drawing.placing import PlacedPart, placed_parts
from app.drawing.route_prices import GRID_MM
from app.drawing.routing import snapped
from app.words import N_, _
from model.diagram import Component, Diagram
from model.edits import Edit, changed

Line = Literal["left", "centre", "right", "top", "middle", "bottom"]
Direction = Literal["across", "down"]
FEWEST_TO_ALIGN, FEWEST_TO_DISTRIBUTE = 2, 3


def align_edit(diagram: Diagram, items: Iterable[str], line: Line) -> Edit:
    """Return the edit that puts parts in line: by an edge of their bodies, or by their middles.

    The outermost part stays; for middles all go to the middle of the group.
    """
    parts = _chosen(diagram, items)
    boxes = [part.body for part in parts.values()]
    whole = _whole(boxes)
    steps: dict[str, Point] = {}
    for item, part in parts.items():
        body = part.body
        if line in ("left", "right"):
            far = whole.x0 - body.x0 if line == "left" else whole.x1 - body.x1
            steps[item] = (_towards(far), 0.0)
        elif line in ("top", "bottom"):
            far = whole.y0 - body.y0 if line == "top" else whole.y1 - body.y1
            steps[item] = (0.0, _towards(far))
        else:
            x, y = part.component.at or (0.0, 0.0)
            steps[item] = ((snapped((whole.x0 + whole.x1) / 2) - x, 0.0) if line == "centre"
                           else (0.0, snapped((whole.y0 + whole.y1) / 2) - y))
    return _stepped(diagram, steps, _(_TITLES[line]).format(count=len(parts)))


_TITLES: Mapping[Line, str] = {
    "left": N_("Align {count} parts at the left"),
    "centre": N_("Align {count} parts on one upright line"),
    "right": N_("Align {count} parts at the right"),
    "top": N_("Align {count} parts at the top"),
    "middle": N_("Align {count} parts on one level line"),
    "bottom": N_("Align {count} parts at the bottom"),
}


def distribute_edit(diagram: Diagram, items: Iterable[str], direction: Direction) -> Edit:
    """Return the edit that makes the gaps between parts even; the outermost two stay."""
    parts = _chosen(diagram, items)
    is_across = direction == "across"
    spans = sorted(
        ((part.body.x0, part.body.x1) if is_across else (part.body.y0, part.body.y1), item)
        for item, part in parts.items())
    taken = sum(high - low for (low, high), _item in spans)
    first, last = spans[0][0][0], max(high for (_low, high), _item in spans)
    gap = (last - first - taken) / max(len(spans) - 1, 1)
    label = (_("Distribute {count} parts across") if is_across
             else _("Distribute {count} parts down"))
    steps: dict[str, Point] = {}
    edge = first
    for (low, high), item in spans:
        step = snapped(edge - low)
        steps[item] = (step, 0.0) if is_across else (0.0, step)
        edge += high - low + gap
    return _stepped(diagram, steps, label.format(count=len(parts)))


def _chosen(diagram: Diagram, items: Iterable[str]) -> dict[str, PlacedPart]:
    placed = placed_parts(diagram)
    return {item: placed[item] for item in sorted(items) if item in placed}


def _whole(boxes: list[Box]) -> Box:
    whole = boxes[0]
    for box in boxes[1:]:
        whole = whole.joined(box)
    return whole


def _towards(far: float) -> float:
    """Return the steps of the grid that come nearest to an edge without passing it. [mm]"""
    steps = far / GRID_MM
    return GRID_MM * (floor(steps + 1e-6) if steps > 0 else ceil(steps - 1e-6))


def _stepped(diagram: Diagram, steps: Mapping[str, Point], label: str) -> Edit:
    values = [_moved(diagram, diagram.components[item], step)
              for item, step in steps.items() if step != (0.0, 0.0)]
    return with_conductors(diagram, label, values)


def _moved(diagram: Diagram, component: Component, step: Point) -> Component:
    x, y = component.at or (0.0, 0.0)
    return come_from(diagram, component, changed(component, at=(x + step[0], y + step[1])))
