"""Symbols of what stores and supplies energy, and of the engine."""

from __future__ import annotations

import math

from app.drawing.marks import Circle, Mark, Path, Text, centred, line, polygon
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
    INNER_MM,
    OUTLINE_MM,
    arrow,
    box,
    dc_sign,
    dot,
    figure,
    joined,
    lead,
    minus,
    plus,
    ring,
    sine,
)
from model.kinds.storage import nominal_v

CHEMISTRY_LETTERS = {
    "flooded": "Pb", "agm": "Pb", "gel": "Pb", "lfp": "Li", "other_lithium": "Li",
}


def battery_bank(parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw pairs of plates in a rounded case; one 12 V battery is smaller than a bank."""
    single = nominal_v(parameters) == 12 and parameters.get("parallel_count", 1) == 1
    half_w, top, pairs = (10.0, -7.5, 2) if single else (15.0, -10.0, 3)
    bottom = 7.5
    marks: list[Mark] = [box(-half_w, top, half_w, bottom, 1.25)]
    pitch = (bottom - top - 3.4) / (2 * pairs - 1)
    plates = [top + 1.7 + i * pitch for i in range(2 * pairs)]
    for number, y in enumerate(plates):
        half, width = ((0.6, INNER_MM), (0.32, 0.9))[number % 2]
        marks.append(line(-half * half_w, y, half * half_w, y, width))
    marks += [lead(0, top, 0, plates[0]), lead(0, plates[-1], 0, bottom)]
    marks += [*plus(2.2 - half_w, top + 2.4), *minus(2.2 - half_w, bottom - 2.2)]
    letters = CHEMISTRY_LETTERS.get(parameters.get("chemistry", ""), "?")
    marks.append(Text(half_w - 1.2, bottom - 1.3, letters, 2.4, "ink", "bold_oblique", "end"))
    ports = {"+": up(0, top), "-": down(0, bottom)}
    for number, tap in enumerate(parameters.get("taps", ())):
        ports[f"tap_{tap['id']}"] = right(half_w, -5.0 + 5.0 * number)
    return made(marks, ports)


def alternator(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a G over three phases and a diode."""
    marks = joined(
        ring(0, 0, 7.5), centred(0, -1.8, "G", 4.4), centred(-1.5, 2.9, "3~", 2.4, face="book"),
        polygon([(1.3, 1.9), (1.3, 3.9), (3.1, 2.9)]), line(3.1, 1.9, 3.1, 3.9, INNER_MM),
        line(0.8, 2.9, 3.7, 2.9, FINE_MM),
    )
    return made(marks, {"+": up(0, -7.5), "-": down(0, 7.5), "field": left(-7.5, 0)})


def wind_generator(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a G with three blades turning above it."""
    hub = -9.4
    marks = joined(
        lead(0, hub, 0, -5), [_blade(hub, angle) for angle in (-90, 25, 155)], dot(0, hub, 0.8),
        ring(0, 1.25, 6.25), centred(0, -0.4, "G", 4.0), centred(0, 4.2, "3~", 2.3, face="book"),
        lead(6.1, 0, 7.5, 0), minus(4.3, -1.5),
    )
    return made(marks, {"+": down(0, 7.5), "-": right(7.5, 0)})


def _blade(hub: float, angle_deg: float) -> Path:
    """Return a blade 5.6 long, wide near the hub and pointed at the tip."""
    c, s = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    outline = ((0.4, 0.0), (1.8, 0.8), (5.6, 0.0), (1.8, -0.2))
    points = tuple((u * c - v * s, hub + u * s + v * c) for u, v in outline)
    return Path(points, "ink", FINE_MM, closed=True, fill="body")


def solar_array(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw cells as clipped squares, with two rays falling on the top left corner."""
    marks: list[Mark] = [box(-15, -10, 15, 7.5)]
    for column in range(6):
        for row in range(2):
            marks.append(_cell(-13.4 + column * 4.56, -8.6 + row * 7.7))
    marks += [*arrow(-19.4, -13.8, -16.4, -10.8, INNER_MM, 1.5),
              *arrow(-16.9, -13.8, -13.9, -10.8, INNER_MM, 1.5)]
    return made(marks, {"+": down(0, 7.5), "-": down(5, 7.5)})


def _cell(x: float, y: float) -> Path:
    w, h, cut = 4.0, 7.0, 0.8
    points = ((x + cut, y), (x + w - cut, y), (x + w, y + cut), (x + w, y + h - cut),
              (x + w - cut, y + h), (x + cut, y + h), (x, y + h - cut), (x, y + cut))
    return Path(points, "ink", FINE_MM, closed=True)


def shore_inlet(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a round inlet with three pins and an open arrow into it."""
    marks = joined(
        box(-5, -5, 5, 5, 2.5), Circle(0, 0, 3.6, "ink", INNER_MM),
        [dot(x, y, 0.65) for x, y in ((0, -1.7), (-1.6, 1.1), (1.6, 1.1))],
        Path(((-2, -8.4), (0, -6.2), (2, -8.4)), "ink", INNER_MM), lead(0, 5, 0, 7.5),
    )
    return made(marks, {"ac": down(0, 7.5)})


def generating_set(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw an engine that drives a generator of alternating current, in one box."""
    marks = joined(
        box(-10, -7.5, 10, 7.5), lead(-2.6, 0, -0.6, 0), Circle(-5.6, 0, 3.0, "ink", INNER_MM),
        centred(-5.6, 0, "M", 2.8), Circle(4.2, 0, 4.8, "ink", INNER_MM),
        centred(4.2, -1.2, "G", 3.4), sine(4.2, 2.4, 3.4, 1.6),
    )
    return made(marks, {"ac": down(0, 7.5)})


def engine_block(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw the silhouette of an engine with three bores."""
    outline = ((-19.4, -10), (16, -10), (16, -6), (22.5, -6), (22.5, 10), (-18.2, 10),
               (-18.2, 6), (-22.5, 6), (-22.5, -6.2))
    marks: list[Mark] = [Path(outline, "ink", OUTLINE_MM, closed=True, fill="body")]
    for x in (-14.5, -5.5, 3.5):
        marks += [Circle(x, -5, 2.6, "ink", INNER_MM), line(x - 2.6, -5, x + 2.6, -5, INNER_MM)]
    ports = {"n1": up(-10, -10), "n2": up(10, -10), "n3": down(-10, 10), "n4": down(10, 10)}
    return made(marks, ports)


def starter(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a motor whose pinion moves out while it cranks."""
    out = 1.5 if is_closed(positions, normal="off") else 0.0
    teeth = [line(9.0 + out, y, 10.4 + out, y, OUTLINE_MM) for y in (-1.8, 0, 1.8)]
    marks = joined(
        lead(7.5, 0, 8.0 + out, 0), box(7.6 + out, -2.6, 9.0 + out, 2.6), teeth,
        *_motor(0, 0, 7.5),
    )
    ports: dict[str, PortPlace] = {
        "+": up(0, -7.5), "-": down(0, 7.5), "signal": left(-7.5, 0),
    }
    return made(marks, ports)


def _motor(x: float, y: float, r: float) -> tuple[Mark, ...]:
    """Return a motor: M over the sign of direct current."""
    return joined(ring(x, y, r), centred(x, y - 0.22 * r, "M", 0.6 * r),
                  dc_sign(x, y + 0.42 * r, 0.5 * r))


def fuel_tank(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a tank with its filler and the level in it."""
    marks = joined(
        box(-7.5, -5, 7.5, 5, 1.25), line(-7.5, -1, 7.5, -1, FINE_MM, dash=(1.6, 0.9)),
        Path(((4, -5), (4, -6.6), (6, -6.6), (6, -5)), "ink", OUTLINE_MM, fill="body"),
        figure(0, 2, "fuel"), lead(0, -5, 0, -7.5),
    )
    return made(marks, {"n": up(0, -7.5)})


SYMBOLS: dict[str, Draw] = {
    "battery_bank": battery_bank,
    "alternator": alternator,
    "wind_generator": wind_generator,
    "solar_array": solar_array,
    "shore_inlet": shore_inlet,
    "generating_set": generating_set,
    "engine_block": engine_block,
    "starter": starter,
    "fuel_tank": fuel_tank,
}
