"""Symbols of bars and studs, and of the earthing side.

A bar's origin is where its first stud stands when none is placed by hand; studs lie on its axis
and may be left to any side.
"""

from __future__ import annotations

from collections.abc import Sequence

from app.drawing.marks import Circle, Mark, Path, Rect, Text, line, polygon
from app.drawing.symbols.record import (
    Draw,
    Parameters,
    PortPlace,
    Positions,
    Symbol,
    made,
    up,
)
from app.drawing.symbols.shapes import INNER_MM, OUTLINE_MM, joined, lead
from model.kinds.distribution import stud_ids

GRID_MM = 2.5
STUD_PITCH_MM = 10.0
BAR_END_MM = 5.0
MAIN_BAR_FROM_A = 300
OPEN_EDGE_MM = 0.6
STUD_R_MM = 0.8

# pole: the role of the bar, and whether it is filled
BAR_LOOKS = {
    "+": ("busbar", True), "-": ("negative", False), "L": ("ac", True), "N": ("ac", False),
    "E": ("bonding", True), "bonding": ("bonding", True),
}


def stud_places_mm(parameters: Parameters) -> tuple[float, ...]:
    """Return how far each stud is from the origin along the bar, on the grid. [mm]."""
    by_hand = [round(at / GRID_MM) * GRID_MM for at in parameters.get("stud_at_mm", ())]
    places = by_hand[: len(stud_ids(parameters))]
    while len(places) < len(stud_ids(parameters)):
        places.append(max(places) + STUD_PITCH_MM if places else 0.0)
    return tuple(places)


def _bar_ends_mm(parameters: Parameters, studs: Sequence[float]) -> tuple[float, float]:
    start = min(studs) - BAR_END_MM
    return start, max(max(studs) + BAR_END_MM, start + parameters.get("length_mm", 0.0))


def bar_marks(x0: float, x1: float, y: float, height: float, pole: str) -> list[Mark]:
    """Return a bar: filled for what is fed, open for what returns."""
    role, filled = BAR_LOOKS.get(pole, ("negative", False))
    if filled:
        return [Rect(x0, y - height / 2, x1 - x0, height, 0, None, 0.0, role)]
    edge = OPEN_EDGE_MM / 2
    return [Rect(x0 + edge, y - height / 2 + edge, x1 - x0 - 2 * edge, height - 2 * edge, 0, role,
                 OPEN_EDGE_MM, "body")]


def _stud(x: float, y: float, pole: str) -> Mark:
    filled = BAR_LOOKS.get(pole, ("", False))[1]
    return Circle(x, y, STUD_R_MM if filled else 0.6, None, 0.0, "body" if filled else "ink")


def busbar(parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a bar with its studs."""
    pole = parameters.get("pole", "+")
    studs = stud_places_mm(parameters)
    x0, x1 = _bar_ends_mm(parameters, studs)
    height = 2.6 if parameters.get("rated_a", 0) >= MAIN_BAR_FROM_A else 2.2
    marks = joined(bar_marks(x0, x1, 0, height, pole), [_stud(x, 0, pole) for x in studs])
    return made(marks, _stud_ports(parameters, studs))


def _stud_ports(parameters: Parameters, studs: Sequence[float]) -> dict[str, PortPlace]:
    named = zip(stud_ids(parameters), studs, strict=True)
    return {stud: PortPlace(x, 0) for stud, x in named}


def terminal_block(parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a row of joined terminals, each in its cell."""
    role = BAR_LOOKS.get(parameters.get("pole", "+"), ("negative", False))[0]
    studs = stud_places_mm(parameters)
    x0, x1 = _bar_ends_mm(parameters, studs)
    walls = [line((a + b) / 2, -2.5, (a + b) / 2, 2.5, INNER_MM)
             for a, b in zip(sorted(studs), sorted(studs)[1:], strict=False)]
    marks = joined(
        Rect(x0, -2.5, x1 - x0, 5, 0, "ink", OUTLINE_MM, "body"), walls,
        line(min(studs), 0, max(studs), 0, OUTLINE_MM, role),
        [Circle(x, 0, 1.0, "ink", INNER_MM, "body") for x in studs],
    )
    return made(marks, _stud_ports(parameters, studs))


def stud(parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw the dot of a joint."""
    role = BAR_LOOKS.get(parameters.get("pole", "+"), ("negative", False))[0]
    role = "positive" if role == "busbar" else role
    return made([Circle(0, 0, 1.1, None, 0.0, role)], {"s": PortPlace(0, 0)})


def untraced_end(parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a ring with a question mark: the line goes on, but nobody knows where to."""
    role = BAR_LOOKS.get(parameters.get("pole", "+"), ("ink", False))[0]
    role = "positive" if role == "busbar" else role
    mark = Text(0, 1.15, "?", 3.2, "ink", "bold", "middle")
    return made([Circle(0, 0, 2.0, role, OUTLINE_MM, "body", dash=(0.9, 0.6)), mark],
                {"end": PortPlace(0, 0)})


def earth_plate(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw three strokes on a stem."""
    strokes = [line(-half, y, half, y, OUTLINE_MM)
               for half, y in ((3.2, 0.0), (2.1, 1.2), (1.0, 2.4))]
    return made(joined(lead(0, -5, 0, 0), strokes), {"n": up(0, -5)})


def hull_bond(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw the section of a hull on a stem."""
    hull = ((-4.2, 0.0), (-3.6, 1.8), (-2.2, 3.2), (0.0, 4.2), (2.2, 3.2), (3.6, 1.8), (4.2, 0.0))
    marks = joined(lead(0, -5, 0, 0), Path(hull, "ink", OUTLINE_MM, closed=True, fill="body"))
    return made(marks, {"n": up(0, -5)})


def bonding_bus(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a bar of the bonding system."""
    marks = joined(bar_marks(-10, 10, 0, 2.2, "bonding"), [_stud(x, 0, "bonding")
                                                         for x in (-7.5, -2.5, 2.5, 7.5)],
                   polygon([(-0.9, 0), (0, -0.9), (0.9, 0), (0, 0.9)], "body"))
    return made(marks, {"n": PortPlace(0, 0)})


def neutral_earth_bond(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a strap from the neutral's stud to the strokes of earth."""
    strokes = [line(-half, y, half, y, OUTLINE_MM)
               for half, y in ((2.6, 2.2), (1.7, 3.2), (0.8, 4.2))]
    marks = joined(lead(0, -5, 0, 0), Circle(0, -1.5, STUD_R_MM, "ink", INNER_MM, "body"),
                   line(0, 0, 0, 2.2, OUTLINE_MM), strokes, lead(5, 0, 0, 0))
    return made(marks, {"n": up(0, -5), "e": PortPlace(5, 0, 1, 0)})


SYMBOLS: dict[str, Draw] = {
    "neutral_earth_bond": neutral_earth_bond,
    "busbar": busbar,
    "terminal_block": terminal_block,
    "stud": stud,
    "untraced_end": untraced_end,
    "earth_plate": earth_plate,
    "hull_bond": hull_bond,
    "bonding_bus": bonding_bus,
}
