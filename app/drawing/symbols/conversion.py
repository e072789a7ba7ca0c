"""Symbols of converters: a square cut by a diagonal, the source on one side, the result beyond."""

from __future__ import annotations

from collections.abc import Iterable

from app.drawing.marks import Circle, Mark, Text, centred, line
from app.drawing.symbols.record import (
    Draw,
    Parameters,
    PortPlace,
    Positions,
    Symbol,
    down,
    left,
    made,
    right,
    up,
)
from app.drawing.symbols.shapes import (
    INNER_MM,
    OUTLINE_MM,
    arrow,
    arrow_head,
    blades,
    box,
    dc_sign,
    diode,
    dot,
    figure,
    joined,
    lead,
    minus,
    plus,
    sine,
    sun,
)
from model.kinds.conversion import output_ids


def _cut(x0: float, y0: float, x1: float, y1: float, rising: bool = True) -> list[Mark]:
    """Return a body cut by a diagonal that rises, or falls, to the right."""
    low, high = (y1, y0) if rising else (y0, y1)
    return [box(x0, y0, x1, y1), line(x0, low, x1, high, INNER_MM)]


def solar_controller(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw the sun turned into direct current."""
    marks = joined(
        _cut(-8.75, -10, 8.75, 7.5), sun(-4.6, -5.6), dc_sign(4.6, 1.6),
        plus(-1.3, -8.7), minus(4.0, -8.7), plus(-1.3, 6.2), minus(6.4, 6.2),
        lead(-10, 0, -8.75, 0),
    )
    ports = {"pv+": up(0, -10), "pv-": up(5, -10), "out+": down(0, 7.5), "out-": down(5, 7.5),
             "sense": left(-10, 0)}
    return made(marks, ports)


def wind_controller(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw blades turned into direct current, with a way out for what is too much."""
    marks = joined(
        _cut(-8.75, -10, 8.75, 7.5), blades(-4.2, -5.2, 2.4, 0.5), dc_sign(4.6, 1.6),
        plus(-1.3, 6.2), minus(6.4, 6.2), lead(8.75, -2.5, 10, -2.5),
    )
    ports = {"in+": up(0, -10), "out+": down(0, 7.5), "out-": down(5, 7.5),
             "dump": right(10, -2.5)}
    return made(marks, ports)


def shore_charger(parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw alternating current turned into direct current, with one to several outputs."""
    outputs = output_ids(parameters)
    first = -5.0 * ((len(outputs) - 1) // 2) - (2.5 if len(outputs) % 2 == 0 else 0.0)
    half = max(8.75, 2.5 - first)
    side = 10.0 if half == 8.75 else half
    marks = list(joined(
        _cut(-half, -7.5, half, 7.5), sine(-4.4, -3.6), dc_sign(4.6, 2.4),
        minus(half - 1.4, -1.2), lead(half, 0, side, 0),
    ))
    ports: dict[str, PortPlace] = {"ac": up(0, -7.5)}
    for number, output in enumerate(outputs):
        x = first + 5.0 * number
        ports[f"{output}+"] = down(x, 7.5)
        marks += plus(x, 6.2) if len(outputs) == 1 else [figure(x, 6.0, output[:2])]
    ports["-"] = right(side, 0)
    return made(marks, ports)


def dc_dc(parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw one direct voltage turned into another, both in figures where they are known."""
    return _dc_dc(parameters, dc_sign(3.4, 2.4))


def dc_dc_charger(parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw direct voltage turned into what a battery is charged with: its plates."""
    plates = [line(3.6 - half, y, 3.6 + half, y, width)
              for half, width, y in ((2.2, INNER_MM, 0.6), (1.2, 0.6, 1.7),
                                     (2.2, INNER_MM, 2.8), (1.2, 0.6, 3.9))]
    return _dc_dc(parameters, plates)


def _dc_dc(parameters: Parameters, result: Iterable[Mark]) -> Symbol:
    marks = list(joined(
        _cut(-7.5, -7.5, 7.5, 7.5), dc_sign(-3.4, -2.4), result, minus(6.2, -1.2),
    ))
    volts_in, volts_out = parameters.get("input_v"), parameters.get("output_v")
    if volts_in is not None:
        marks.append(Text(-6.7, -5.0, f"{volts_in:g}", 2.2))
    if volts_out is not None:
        marks.append(Text(4.2, 6.6, f"{volts_out:g}", 2.2, anchor="end"))
    ports = {"in+": up(0, -7.5), "out+": down(0, 7.5), "-": right(7.5, 0), "out-": down(5, 7.5),
             "run": left(-7.5, 0)}
    return made(marks, ports)


def diode_isolator(parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw one line that splits into a diode for each output."""
    count = parameters.get("output_count", 2)
    xs = (-5.0, 5.0) if count == 2 else (-5.0, 0.0, 5.0)
    marks: list[Mark] = [box(-10, -7.5, 10, 5), lead(0, -7.5, 0, -4.5), lead(-5, -4.5, 5, -4.5)]
    ports = {"in": up(0, -7.5)}
    for number, x in enumerate(xs):
        marks += [lead(x, -4.5, x, 5), *diode(x, 0.4, half_mm=1.5)]
        ports[f"out{number + 1}"] = down(x, 5)
    marks.append(dot(0, -4.5, 0.7))
    return made(marks, ports)


def inverter(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw direct current from below turned into alternating current to the right."""
    marks = joined(
        _cut(-8.75, -7.5, 8.75, 7.5, rising=False), dc_sign(-4.4, 2.8), sine(4.2, -3.8),
        plus(-1.5, 6.2), minus(3.6, 6.2), lead(8.75, -2.5, 10, -2.5),
    )
    return made(marks, {"+": down(0, 7.5), "-": down(5, 7.5), "ac": right(10, -2.5)})


def inverter_charger(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw both ways between alternating and direct current, with a double arrow across."""
    marks = joined(
        _cut(-12.5, -10, 12.5, 10, rising=False), sine(6.2, -5.2, 5.0, 3.0),
        dc_sign(-6.4, 4.6, 4.4), line(-1.3, 1.7, 1.3, -1.7, INNER_MM),
        arrow_head((2.3, -3.0), -52.6), arrow_head((-2.3, 3.0), 127.4),
        plus(-1.5, 8.7), minus(3.4, 8.7),
    )
    ports = {"ac_in": up(0, -10), "ac_out": right(12.5, 0), "+": down(0, 10), "-": down(5, 10),
             "remote": left(-12.5, 0)}
    return made(marks, ports)


def isolation_transformer(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw two rings with a screen between them: no conductor passes."""
    marks = joined(
        lead(0, -7.5, 0, -7), lead(0, 7, 0, 7.5),
        [_winding(-2.9), _winding(2.9)],
        line(-5.5, 0, 5.5, 0, INNER_MM, dash=(1.2, 0.6)),
    )
    return made(marks, {"ac_in": up(0, -7.5), "ac_out": down(0, 7.5)})


def _winding(y: float) -> Mark:
    return Circle(0, y, 4.1, "ink", 0.5)


def regulator(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a box that sets a field by what it senses."""
    marks = joined(
        box(-10, -7.5, 10, 5), centred(5.4, -1.25, "U", 3.0, "ink", "oblique"),
        arrow(3.0, -1.25, -2.6, -1.25), centred(-5.4, -1.25, "If", 3.0, "ink", "oblique"),
    )
    ports = {"supply": up(0, -7.5), "-": down(0, 5), "field": left(-10, 0), "sense": right(10, 0)}
    return made(marks, ports)


def equaliser(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a box that holds two halves level."""
    marks = joined(
        box(-5, -5, 5, 5), line(-2.6, -2.4, 2.6, -2.4, OUTLINE_MM),
        line(-2.6, 2.4, 2.6, 2.4, OUTLINE_MM), arrow(0, 0, 0, -2.2), arrow(0, 0, 0, 2.2),
    )
    return made(marks, {"+": up(0, -5), "mid": right(5, 0), "-": down(0, 5)})


def battery_management_unit(_parameters: Parameters, _positions: Positions) -> Symbol:
    """Draw a box that watches cells."""
    marks = joined(
        box(-8.75, -7.5, 8.75, 5), centred(0, -1.25, "BMS", 3.0, "ink", "bold"),
        lead(8.75, 0, 10, 0),
    )
    return made(marks, {"supply": right(10, 0), "-": down(0, 5), "trip": up(0, -7.5)})


SYMBOLS: dict[str, Draw] = {
    "solar_controller": solar_controller,
    "wind_controller": wind_controller,
    "shore_charger": shore_charger,
    "dc_dc_converter": dc_dc,
    "dc_dc_charger": dc_dc_charger,
    "diode_isolator": diode_isolator,
    "inverter": inverter,
    "inverter_charger": inverter_charger,
    "isolation_transformer": isolation_transformer,
    "regulator": regulator,
    "equaliser": equaliser,
    "battery_management_unit": battery_management_unit,
}
