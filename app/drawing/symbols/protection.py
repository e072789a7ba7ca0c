"""Symbols of fuses and breakers, and of what measures in a line."""

from __future__ import annotations

import math

from app.drawing.marks import Arc, Circle, Mark, Rect, centred, line
from app.drawing.symbols.contacts import contact, cross, residual_ring, thermal_step
from app.drawing.symbols.record import (
    Draw,
    Parameters,
    PortPlace,
    Positions,
    Symbol,
    down,
    is_closed,
    left,
    made,
    right,
    up,
)
from app.drawing.symbols.shapes import (
    FINE_MM,
    HEAVY_MM,
    INNER_MM,
    OUTLINE_MM,
    box,
    diode,
    dot,
    joined,
    lead,
    minus,
    plus,
)

IN_LINE: dict[str, PortPlace] = {"a": up(0, -5), "b": down(0, 5)}
LEADS = (lead(0, -5, 0, -4), lead(0, 4, 0, 5))


def fuse(parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a cartridge whose caps tell its class; a pulled fuse leaves an empty holder."""
    if not is_closed(positions, normal="in"):
        holder = Rect(-1.75, -4, 3.5, 8, 0, "ink", INNER_MM, "body", (0.9, 0.7))
        return made(joined(LEADS, holder, dot(0, -4, 0.6), dot(0, 4, 0.6)), IN_LINE)
    marks = joined(LEADS, box(-1.75, -4, 1.75, 4), _caps(parameters.get("class")))
    return made(marks, IN_LINE)


def _caps(fuse_class: str | None) -> list[Mark]:
    inner = line(0, -4, 0, 4, INNER_MM)
    if fuse_class is None:
        return [centred(0, 0, "?", 3.4, "ink", "bold")]
    if fuse_class == "blade":
        return [inner, line(-1.75, -2.2, 1.75, -2.2, INNER_MM)]
    if fuse_class == "bolted":
        return [inner, dot(0, -2.7, 0.75), dot(0, 2.7, 0.75)]
    if fuse_class == "terminal":
        return [inner, _cap(2.0)]
    if fuse_class == "class_t":
        return [inner, _cap(-4.0), _cap(2.0)]
    if fuse_class == "glass":
        return [inner, line(-1.75, -2.6, 1.75, -2.6, INNER_MM),
                line(-1.75, 2.6, 1.75, 2.6, INNER_MM)]
    return [inner]


def _cap(y: float) -> Mark:
    return Rect(-1.75, y, 3.5, 2.0, 0, None, 0.0, "ink")


def breaker(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a contact with the cross of a breaker and a thermal step."""
    return made(joined(contact(is_closed(positions)), cross(), thermal_step()), IN_LINE)


def residual_current_breaker(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a contact with a cross, and a ring round its foot that trips it."""
    closed = is_closed(positions)
    return made(joined(contact(closed), cross(), residual_ring(closed)), IN_LINE)


def galvanic_isolator(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw two diodes each way, side by side."""
    marks: list[Mark] = [box(-5, -3.75, 5, 3.75)]
    for x, way in ((-2.2, 1), (2.2, -1)):
        marks += [line(x, -3, x, 3, INNER_MM), *diode(x, -1.45, way, 0.95),
                  *diode(x, 1.45, way, 0.95)]
    marks += [line(-2.2, -3, 2.2, -3, INNER_MM), line(-2.2, 3, 2.2, 3, INNER_MM),
              lead(0, -5, 0, -3), lead(0, 3, 0, 5)]
    return made(marks, IN_LINE)


def shunt(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a measuring resistance with two taps on the left."""
    marks = joined(
        LEADS, box(-2.25, -4, 2.25, 4), centred(0, 0, "I", 3.0, face="bold_oblique"),
        [line(-2.25, y, -3.2, y, INNER_MM) for y in (-2.4, 2.4)],
        [line(-3.75, y, -5, 0, FINE_MM) for y in (-2.4, 2.4)],
        [Circle(-3.75, y, 0.55, "ink", INNER_MM, "body") for y in (-2.4, 2.4)],
    )
    return made(marks, {**IN_LINE, "sense": left(-5, 0)})


def monitor(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a dial."""
    angle = math.radians(-52)
    marks = joined(
        box(-8.75, -5, 8.75, 5), Arc(0, 3.2, 5.2, -150, 120, "ink", INNER_MM),
        line(0, 3.2, 4.4 * math.cos(angle), 3.2 + 4.4 * math.sin(angle), OUTLINE_MM),
        dot(0, 3.2, 0.7), plus(-6.6, -3.2), minus(-6.6, 3.4), lead(8.75, 0, 10, 0),
    )
    return made(marks, {"+": up(0, -5), "-": down(0, 5), "sense": right(10, 0)})


def polarity_indicator(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a small lamp over the letters of line and neutral."""
    marks = joined(
        box(-5, -5, 5, 5), Circle(0, -1.5, 1.9, "ink", INNER_MM),
        line(-1.34, -2.84, 1.34, -0.16, FINE_MM), line(1.34, -2.84, -1.34, -0.16, FINE_MM),
        centred(-2.6, 2.9, "L", 2.2), centred(2.6, 2.9, "N", 2.2),
        line(-1.2, 2.9, 1.0, 2.9, HEAVY_MM),
    )
    return made(marks, {"ac": up(0, -5)})


SYMBOLS: dict[str, Draw] = {
    "fuse": fuse,
    "breaker": breaker,
    "ac_breaker": breaker,
    "residual_current_breaker": residual_current_breaker,
    "galvanic_isolator": galvanic_isolator,
    "shunt": shunt,
    "monitor": monitor,
    "polarity_indicator": polarity_indicator,
}
