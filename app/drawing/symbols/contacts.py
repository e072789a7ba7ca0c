"""The contact, drawn as it stands: closed a heavy blade on the line, open a blade swung aside.

Contacts are a little larger and bolder than the lines beside them, so that closed and open
differ when a whole sheet is on the screen.
"""

from __future__ import annotations

from app.drawing.marks import Circle, Mark, Path, line
from app.drawing.symbols.shapes import FINE_MM, HEAVY_MM, INNER_MM, OUTLINE_MM, ellipse, lead

FIXED_Y, HINGE_Y, HINGE_R = -2.6, 2.6, 0.7
BLADE_MM = 0.95
OPEN_TIP = (-3.3, -1.7)
RING_R = 0.75
RING_Y = FIXED_Y + RING_R
LINK_DASH = (0.8, 0.5)


def contact(closed: bool, fixed_y: float = FIXED_Y) -> list[Mark]:
    """Return a contact between (0, -5) and (0, 5), its hinge at the foot; the blade closes at
    `fixed_y`.
    """
    tip = (0.0, fixed_y) if closed else OPEN_TIP
    return [
        lead(0, -5, 0, FIXED_Y), lead(0, HINGE_Y, 0, 5),
        Path(((0.0, HINGE_Y), tip), "ink", BLADE_MM),
        Circle(0, HINGE_Y, HINGE_R, "ink", INNER_MM, "body"),
    ]


def cross() -> list[Mark]:
    """Return the cross of a breaker at the fixed end."""
    return [line(-1.2, FIXED_Y - 1.2, 1.2, FIXED_Y + 1.2, OUTLINE_MM),
            line(1.2, FIXED_Y - 1.2, -1.2, FIXED_Y + 1.2, OUTLINE_MM)]


def bar() -> list[Mark]:
    """Return the bar of a disconnector across the fixed end."""
    return [line(-1.6, FIXED_Y, 1.6, FIXED_Y, HEAVY_MM)]


def bar_and_ring() -> list[Mark]:
    """Return the bar and ring of a load switch at the fixed end."""
    return [line(-1.7, FIXED_Y - 0.3, 1.7, FIXED_Y - 0.3, HEAVY_MM),
            Circle(0, RING_Y, RING_R, "ink", INNER_MM, "body")]


def half_round() -> list[Mark]:
    """Return the half round of a contactor at the fixed end."""
    points = ((0.0, FIXED_Y - 1.6), (-0.9, FIXED_Y - 1.35), (-1.25, FIXED_Y - 0.7),
              (-0.9, FIXED_Y - 0.1), (0.0, FIXED_Y + 0.1))
    return [Path(points, "ink", INNER_MM)]


def thermal_step() -> list[Mark]:
    """Return the small step that says: trips by heat."""
    return [Path(((1.2, 1.1), (2.1, 1.1), (2.1, -0.5), (3.4, -0.5)), "ink", INNER_MM)]


def residual_ring(closed: bool) -> list[Mark]:
    """Return the flat ring round the foot, with a dashed link to the blade."""
    blade_x = 0.5 if closed else -1.2
    link = ((1.7, 4.15), (3.0, 4.15), (3.0, 0.2), (blade_x, 0.2))
    return [ellipse(0, 4.15, 1.7, 0.65), Path(link, "ink", FINE_MM, LINK_DASH)]


def link_to_blade(from_x: float, closed: bool) -> list[Mark]:
    """Return the dashed link from an actuator on the left to the blade."""
    to_x = -0.5 if closed else -2.2
    return [line(from_x, 0, to_x, 0, FINE_MM, dash=LINK_DASH)]
