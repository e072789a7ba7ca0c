"""Every invented boat laid out: ours beside igraph's layered layout, routed by the same router.

The other layout is given the same parts, standing the same way up, in the same rows, and the loads
in their panels; order and columns are igraph's (layout_sugiyama), spread so that no part lies on
another. Without the rows it has some fewer crossings on a few boats and many more bends.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import igraph

from app.drawing.conductors import is_drawn, routed_anew
from app.drawing.layout import tidy_edit
from app.drawing.placing import panel_rows, placed_parts
from app.drawing.routing import legs, snapped
from app.drawing.routing_together import crossings_of
from app.drawing.sheet import sheet_drawing
from app.drawing.tidy.ranks import ranked
from app.drawing.tidy.rows import with_rows
from app.drawing.tidy.standing import drawn_lines, mountings, standing_parts
from model.diagram import Component, Diagram
from model.edits import apply, changed
from tests.bench.figures import timed_ms
from tests.boats import BOATS
from tests.overlaps import overlaps

Path = tuple[tuple[float, float], ...]
GAP_MM, MOST_ROWS = 20.0, 100


@dataclass(frozen=True, slots=True)
class Measured:
    """What a layout came to."""

    crossings: int
    bends: int
    length_mm: float


@dataclass(frozen=True, slots=True)
class Compared:
    """One boat, both ways."""

    boat: str
    ours: Measured
    other: Measured
    overlaps: int
    ours_ms: float

    @property
    def median_ms(self) -> float:
        """How long ours took. [ms]."""
        return self.ours_ms

    def text(self) -> str:
        """The line to print."""
        ours, other = self.ours, self.other
        return (f"{self.boat:<12} crossings {ours.crossings:4} | {other.crossings:4}   "
                f"bends {ours.bends:4} | {other.bends:4}   "
                f"length {ours.length_mm / 1000:6.2f} | {other.length_mm / 1000:6.2f} m   "
                f"overlaps {self.overlaps}   median {self.median_ms:7.1f} ms")


def layouts(runs: int = 1) -> list[Compared]:
    """Lay out every boat both ways; one run is enough for what does not depend on time."""
    del runs
    return [compared(name, make()) for name, make in BOATS.items()]


def compared(name: str, boat: Diagram) -> Compared:
    """Lay out one boat both ways."""
    found: list[Diagram] = []
    taken_ms = timed_ms(lambda: found.append(tidied(boat)))
    drawing = sheet_drawing(found[0])
    return Compared(name, measured(drawing.paths), measured(routed(layered(boat))),
                    len(overlaps(found[0], drawing)), taken_ms)


def routed(boat: Diagram) -> dict[str, Path]:
    """Every conductor routed anew by our router."""
    parts = placed_parts(boat)
    wires = [wire for wire in boat.conductors.values() if is_drawn(wire, parts)]
    return routed_anew(boat, parts, wires, {})


def tidied(boat: Diagram) -> Diagram:
    """The boat laid out by us."""
    edit = tidy_edit(boat)
    assert edit is not None
    return apply(boat, edit)


def measured(paths: Mapping[str, Path]) -> Measured:
    """Count crossings and bends, add up the length."""
    crossings = sum(crossings_of(item, paths) for item in paths) // 2
    bends = sum(len(path) - 2 for path in paths.values())
    length = sum(abs(a[0] - b[0]) + abs(a[1] - b[1])
                 for path in paths.values() for a, b in legs(path))
    return Measured(crossings, bends, length)


def layered(boat: Diagram) -> Diagram:
    """The boat with its parts where igraph's layered layout puts them."""
    boat = boat.replaced(components=with_rows(boat))
    drawn = {item: c for item, c in boat.components.items() if c.row_of is None}
    lines = drawn_lines(boat, drawn)
    parts = standing_parts(drawn, lines, panel_rows(boat))
    rows = ranked(parts, [*lines, *mountings(drawn)], MOST_ROWS)
    number = {item: i for i, item in enumerate(parts)}
    graph = igraph.Graph(
        len(number), [tuple(number[item] for item, _ in line.ends) for line in lines],
        directed=True)
    wide = max(part.body.w for part in parts.values()) + GAP_MM
    high = max(part.body.h for part in parts.values()) + GAP_MM
    places = graph.layout_sugiyama(
        layers=[rows[item] for item in parts], hgap=wide, vgap=high).coords[:len(number)]
    return boat.replaced(components=boat.components.with_items(
        _put(parts[item].component, places[i]) for item, i in number.items()))


def _put(component: Component, at: Iterable[float]) -> tuple[str, Component]:
    x, y = at
    return component.id, changed(component, at=(snapped(x), snapped(y)))
