"""Symbols of what uses energy."""

from __future__ import annotations

from app.drawing.marks import Arc, Circle, Mark, Path, centred, line
from app.drawing.symbols import icons
from app.drawing.symbols.record import (
    Draw,
    Parameters,
    PortPlace,
    Positions,
    Symbol,
    down,
    left,
    made,
    up,
)
from app.drawing.symbols.shapes import (
    INNER_MM,
    OUTLINE_MM,
    box,
    dc_sign,
    dot,
    ellipse,
    figure,
    joined,
    lead,
    minus,
    plus,
    ring,
    sine,
)

UPRIGHT: dict[str, PortPlace] = {"+": up(0, -5), "-": down(0, 5)}
FROM_LEFT: dict[str, PortPlace] = {"+": left(-7.5, 0), "-": down(0, 7.5)}


def lamp(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a ring with a cross."""
    marks = joined(lead(0, -5, 0, -4.4), lead(0, 4.4, 0, 5), icons.light(0, 0, 4.4))
    return made(marks, UPRIGHT)


def navigation_light(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a lamp with rays on one side."""
    rays = [line(5.2, y, 7.0, 1.35 * y, INNER_MM) for y in (-2.2, 0.0, 2.2)]
    marks = joined(lead(0, -5, 0, -4.4), lead(0, 4.4, 0, 5), icons.light(0, 0, 4.4), rays)
    return made(marks, UPRIGHT)


def pump(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a ring with a filled triangle."""
    return made(icons.pump(0, 0, 5), UPRIGHT)


def bilge_pump(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a pump over water."""
    wave = sine(7.6, 3.6, 3.2, 1.2)
    return made(joined(icons.pump(0, 0, 5), wave), UPRIGHT)


def _machine(y: float, r: float) -> tuple[Mark, ...]:
    return joined(ring(0, y, r), centred(0, y - 0.22 * r, "M", 0.6 * r),
                  dc_sign(0, y + 0.42 * r, 0.5 * r))


def motor(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw M over the sign of direct current."""
    return made(_machine(1.25, 6.25), {"+": up(0, -5), "-": down(0, 7.5)})


def autopilot(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a motor with the tiller it moves."""
    marks = joined(_machine(1.25, 6.25), lead(6.25, 1.25, 8.2, 1.25), dot(8.6, 1.25, 0.6),
                   line(8.6, 1.25, 10.6, -3.2, 0.7))
    return made(marks, {"+": up(0, -5), "-": down(0, 7.5)})


def windlass(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a motor with its gypsy and three links of chain."""
    gypsy = ((7.1, -6), (13, -6), (13, -3.6), (10.8, -2.2), (10.8, 2.2), (13, 3.6), (13, 6),
             (7.1, 6))
    links = [ellipse(x, 0, 1.55, 0.9) for x in (13.6, 16.2, 18.8)]
    marks = joined(Path(gypsy, "ink", OUTLINE_MM, closed=True, fill="body"), links,
                   _machine(0, 7.5))
    return made(marks, FROM_LEFT)


def thruster(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a motor with a screw of two blades."""
    marks = joined(lead(7.5, 0, 10.6, 0), ellipse(10.6, -3.2, 1.1, 3.0, "body", OUTLINE_MM),
                   ellipse(10.6, 3.2, 1.1, 3.0, "body", OUTLINE_MM), dot(10.6, 0, 0.7),
                   _machine(0, 7.5))
    return made(marks, FROM_LEFT)


def heater(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw five cells in a row."""
    return made(_cells(), {"+": up(0, -7.5), "-": down(0, 5)})


def _cells() -> tuple[Mark, ...]:
    return joined(box(-2.5, -7.5, 2.5, 5),
                  [line(-2.5, y, 2.5, y, INNER_MM) for y in (-5.0, -2.5, 0.0, 2.5)])


def refrigerator(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a star of frost in a box."""
    return made(icons.cooling(0, 0, 5), UPRIGHT)


def radio(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a box with an aerial beside it."""
    marks = joined(
        box(-5, -5, 5, 5), line(0, 3.2, 0, -2.6, INNER_MM), line(-2.6, -3.2, 0, -0.4, INNER_MM),
        line(2.6, -3.2, 0, -0.4, INNER_MM), line(0, -3.2, 0, -2.4, INNER_MM),
    )
    return made(marks, UPRIGHT)


def instrument(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a trace on a screen."""
    return made(icons.electronics(0, 0, 5), UPRIGHT)


def socket(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw an outlet for direct current."""
    marks = joined(box(-5, -5, 5, 5), Circle(0, 0, 3.2, "ink", INNER_MM), dot(0, 0, 0.8))
    return made(marks, UPRIGHT)


def alarm(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a bell that sounds."""
    return made(joined(box(-5, -5, 5, 5), icons.alarm(0, -0.2, 4.4)[1:]), UPRIGHT)


def gas_alarm(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw waves that spread from a point."""
    waves = [Arc(-2.4, 2.4, r, -90, 90, "ink", INNER_MM) for r in (1.9, 3.5, 5.1)]
    return made(joined(box(-5, -5, 5, 5), dot(-2.2, 2.2, 0.8), waves), UPRIGHT)


def memory_feed(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a clock."""
    marks = joined(box(-5, -5, 5, 5), Circle(0, 0, 3.2, "ink", INNER_MM),
                   line(0, 0, 0, -2.3, INNER_MM), line(0, 0, 1.7, 0, INNER_MM))
    return made(marks, UPRIGHT)


def tracker(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a cross on a place, with a wave that tells of it."""
    waves = [Arc(0, 1.6, r, -125, 70, "ink", INNER_MM) for r in (2.6, 4.2)]
    marks = joined(box(-5, -5, 5, 5), dot(0, 1.8, 0.8), Circle(0, 1.8, 1.6, "ink", INNER_MM), waves)
    return made(marks, UPRIGHT)


def load(parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a box with the sign of what the load is for."""
    family = icons.family_of(parameters.get("role", "generic"))
    sign = icons.family_sign(family, 0, 0, 3.2)
    inside = sign[1:] if family in icons.FRAMED else sign
    return made(joined(box(-5, -5, 5, 5), inside), UPRIGHT)


def ac_load(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a box with the sign of alternating current."""
    return made(joined(box(-5, -5, 5, 5), sine(0, 0, 5.0, 3.2)), {"ac": up(0, -5)})


def ac_socket(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw an outlet on its bar."""
    arch = Path(icons.half_ring(0, 2.5, 4), "ink", OUTLINE_MM, closed=True, fill="body")
    marks = joined(lead(0, -5, 0, -1.5), arch, line(-5, 2.5, 5, 2.5, 0.7),
                   dot(-1.4, 0.9, 0.5), dot(1.4, 0.9, 0.5))
    return made(marks, {"ac": up(0, -5)})


def plain_box(parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a box with what it is written in it: for whatever has no symbol of its own."""
    what = str(parameters.get("what", ""))
    marks = list(joined(box(-10, -7.5, 10, 5), plus(1.7, -5.9), minus(1.7, 3.6)))
    if what:
        marks.append(figure(0, -1.25, what[:14], 2.4))
    return made(marks, {"+": up(0, -7.5), "-": down(0, 5), "signal": left(-10, 0)})


SYMBOLS: dict[str, Draw] = {
    "load": load,
    "lamp": lamp,
    "navigation_light": navigation_light,
    "pump": pump,
    "bilge_pump": bilge_pump,
    "motor": motor,
    "windlass": windlass,
    "thruster": thruster,
    "heater": heater,
    "refrigerator": refrigerator,
    "radio": radio,
    "instrument": instrument,
    "autopilot": autopilot,
    "socket": socket,
    "alarm": alarm,
    "gas_alarm": gas_alarm,
    "tracker": tracker,
    "memory_feed": memory_feed,
    "dump_load": heater,
    "ac_load": ac_load,
    "ac_socket": ac_socket,
    "box": plain_box,
}
