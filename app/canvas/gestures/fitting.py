"""A part held over a conductor: the gap it would make, as a ghost."""

from __future__ import annotations

from collections.abc import Sequence

from app.canvas.desk import Desk
from app.drafting.cutting import Cut, cut_paths
from app.drafting.inserting import Gap, Side, fits_in, gap_on, inserted_part, supply_side
from app.drawing.conductors import conductor_marks
from app.drawing.marks import Circle, Mark, Point, Rect
from app.drawing.placing import placed_part
from model.diagram import Component, End

REACH_MM = 2.5


class Fitting:
    """Finds where one part would sit in a conductor while it is moved about."""

    def __init__(self, desk: Desk, component: Component) -> None:
        self._desk, self._component = desk, component
        self._supply: dict[str, Side] = {}

    def gap_at(self, at: Point) -> Gap | None:
        """Return the gap in the conductor under a point, None where there is none or no fit."""
        found = self._desk.scene.conductor_at(at, REACH_MM)
        if found is None:
            return None
        wire = self._desk.diagram.conductors[found[0]]
        if self._component.id in {end.component for end in wire.ends()} or not fits_in(
                self._component, wire):
            return None
        if wire.id not in self._supply:  # the same while the part is in hand
            self._supply[wire.id] = supply_side(self._desk.diagram, wire)
        return gap_on(wire, self._desk.scene.drawing.paths[wire.id], at, self._supply[wire.id])

    def marks(self, gap: Gap) -> Sequence[Mark]:
        """Return the ghost: the line with its gap, and the part in it."""
        part = placed_part(inserted_part(self._desk.diagram, self._component, gap))
        if part is None:
            return ()
        near, far = part.port("a").at, part.port("b").at
        first, second = (near, far) if gap.supply == "start" else (far, near)
        end = End(component=self._component.id, terminal="a")
        lines = cut_paths(Cut(gap.path, gap.leg, gap.at, end, end), first, second, False)
        wire = self._desk.diagram.conductors[gap.conductor]
        box = part.body.grown(1.5)
        marks: list[Mark] = [mark for line in lines if line is not None
                             for mark in conductor_marks(wire, line.points)]
        marks.append(Rect(box.x0, box.y0, box.w, box.h, 1.0, "selection", 0.3, "selection_tint",
                          (1.5, 1.0)))
        marks += [part.group, *(Circle(*at, 0.9, "selection", 0.3, "body") for at in (near, far))]
        return marks
