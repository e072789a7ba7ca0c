"""Symbols of switches, drawn as they stand."""

from __future__ import annotations

import math

from app.drawing.marks import Arc, Circle, Mark, Path, Rect, Text, centred, line
from app.drawing.symbols.contacts import (
    RING_R,
    RING_Y,
    bar,
    bar_and_ring,
    contact,
    half_round,
    link_to_blade,
)
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
    arrow_head,
    box,
    dot,
    joined,
    lead,
    ring,
    sine,
)

IN_LINE: dict[str, PortPlace] = {"a": up(0, -5), "b": down(0, 5)}
BLADE_MM = 1.4
OFF_TURN_DEG = 55


def battery_switch(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a ring with two studs and a blade between them; off turns the blade aside."""
    return made(_round_switch(is_closed(positions)), IN_LINE)


def emergency_link(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a battery switch marked E; it stands open unless told."""
    marks = joined(_round_switch(is_closed(positions, normal="off")), centred(2.7, -1.5, "E", 2.0))
    return made(marks, IN_LINE)


def _round_switch(closed: bool) -> tuple[Mark, ...]:
    turn = 0.0 if closed else math.radians(-OFF_TURN_DEG)
    x, y = 2.9 * math.sin(turn), -2.9 * math.cos(turn)
    return joined(ring(0, 0, 5), lead(0, -5, 0, -3.4), lead(0, 3.4, 0, 5),
                  dot(0, -3.4, 0.9), dot(0, 3.4, 0.9),
                  Path(((x, y), (-x, -y)), "ink", BLADE_MM), Circle(0, 0, 0.4, None, 0, "body"))


def disconnector(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a contact with a bar across its fixed end."""
    return made(joined(contact(is_closed(positions)), bar()), IN_LINE)


def load_switch(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a contact with a bar and a ring at its fixed end."""
    return made(joined(contact(is_closed(positions), RING_Y + RING_R), bar_and_ring()), IN_LINE)


def _with_coil(positions: Positions, top: list[Mark]) -> Symbol:
    closed = is_closed(positions)
    coil = (-8.8, -1.5, -5.2, 1.5)
    marks = joined(
        contact(closed), top, link_to_blade(coil[2], closed),
        Rect(coil[0], coil[1], 3.6, 3.0, 0, "ink", INNER_MM, "body"),
        line(coil[0], coil[3], coil[2], coil[1], FINE_MM),
        Path(((-7, -1.5), (-7, -2.5), (-10, -2.5)), "ink", FINE_MM),
        Path(((-7, 1.5), (-7, 2.5), (-10, 2.5)), "ink", FINE_MM),
    )
    return made(marks, {**IN_LINE, "coil+": left(-10, -2.5), "coil-": left(-10, 2.5)})


def contactor(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a contact with a half round, worked by a coil."""
    return _with_coil(positions, half_round())


def relay(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a plain contact worked by a coil."""
    return _with_coil(positions, [])


def voltage_sensing_relay(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a contact that closes above a voltage."""
    closed = is_closed(positions)
    marks = joined(
        contact(closed), link_to_blade(-4.1, closed),
        Rect(-9.5, -2.2, 5.4, 4.4, 0, "ink", INNER_MM, "body"),
        centred(-6.8, 0, "U>", 2.4, face="bold_oblique"), line(-10, 0, -9.5, 0, FINE_MM),
    )
    return made(marks, {**IN_LINE, "-": left(-10, 0)})


def float_switch(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a contact worked by a ball."""
    closed = is_closed(positions, normal="off")
    to_x = -0.5 if closed else -2.2
    marks = joined(contact(closed), line(-4.8, 0, to_x, 0, INNER_MM),
                   Circle(-6.1, 0, 1.3, "ink", INNER_MM, "body"))
    return made(marks, IN_LINE)


def push_button(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a contact under a button."""
    closed = is_closed(positions, normal="off")
    marks = joined(contact(closed), link_to_blade(-5.0, closed),
                   Path(((-4.4, -1.5), (-5.2, -1.5), (-5.2, 1.5), (-4.4, 1.5)), "ink", OUTLINE_MM))
    return made(marks, IN_LINE)


SELECTOR_FIGURES = {"1": (-3.0, -2.0), "B": (0.0, -4.3), "2": (3.0, -2.0), "0": (0.0, 3.9)}


def selector_switch(parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a ring with three studs, the figures 1 B 2 0 and an arrow to the chosen one."""
    chosen = positions.get("", parameters.get("normal_position", "1"))
    marks = list(joined(
        ring(0, 0, 6.25), lead(-5, -7.5, -5, -3.75), lead(5, -7.5, 5, -3.75), lead(0, 6.25, 0, 7.5),
        dot(-5, -3.75, 0.95), dot(5, -3.75, 0.95), dot(0, 6.25, 0.95),
    ))
    for text, (x, y) in SELECTOR_FIGURES.items():
        role, face = ("ink", "bold") if text == chosen else ("ink2", "book")
        marks.append(centred(x, y, text, 2.3, role, face))  # type: ignore[arg-type]
    x, y = SELECTOR_FIGURES[chosen]
    part = 2.1 / math.hypot(x, y)
    marks += arrow(-0.8 * part * x, -0.8 * part * y, part * x, part * y, BLADE_MM, 2.2)
    return made(marks, {"1": up(-5, -7.5), "2": up(5, -7.5), "c": down(0, 7.5)})


def ac_transfer_switch(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a blade that joins one supply or the other, or neither, to the load."""
    tip = {"1": (-5.0, -2.0), "2": (5.0, -2.0)}.get(positions.get("", "1"), (0.0, -2.6))
    marks = joined(
        box(-10, -7.5, 10, 7.5), lead(-5, -7.5, -5, -2.4), lead(5, -7.5, 5, -2.4),
        lead(0, 3.6, 0, 7.5), Path(((0.0, 3.6), tip), "ink", 0.95),
        Circle(0, 3.6, 0.7, "ink", INNER_MM, "body"), dot(-5, -2, 0.6), dot(5, -2, 0.6),
        Text(-8.4, -4.2, "1", 2.3, "ink", "bold"), Text(7.0, -4.2, "2", 2.3, "ink", "bold"),
        sine(6.2, 4.2, 3.4, 2.0),
    )
    return made(marks, {"1": up(-5, -7.5), "2": up(5, -7.5), "c": down(0, 7.5)})


def reversing_contactor(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw an arrow each way; heavy while it drives."""
    width = 1.0 if is_closed(positions, normal="off") else OUTLINE_MM
    marks = joined(
        box(-7.5, -5, 7.5, 5), line(0, -2.8, 0, 2.8, FINE_MM),
        line(-3.6, 2.8, -3.6, -1.4, width), arrow_head((-3.6, -3.0), -90, 2.2),
        line(3.6, -2.8, 3.6, 1.4, width), arrow_head((3.6, 3.0), 90, 2.2),
    )
    ports = {"in+": left(-7.5, 0), "out": right(7.5, 0), "-": down(0, 5), "up": up(-2.5, -5),
             "down": up(2.5, -5)}
    return made(marks, ports)


def plug(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a pin and the shell that takes it; pulled, they stand apart."""
    apart = 0.0 if is_closed(positions) else 1.6
    shell = Arc(0, 0.9 + apart, 1.7, 180, 180, "ink", OUTLINE_MM)
    marks = joined(lead(0, -5, 0, -2.4), Path(((0, -2.4), (0, 0.4 - apart)), "ink", BLADE_MM),
                   shell, lead(0, 0.9 + apart + 1.7, 0, 5),
                   line(-1.7, 0.9 + apart, -1.7, 2.2 + apart, OUTLINE_MM),
                   line(1.7, 0.9 + apart, 1.7, 2.2 + apart, OUTLINE_MM),
                   line(-1.7, 2.2 + apart, 1.7, 2.2 + apart, OUTLINE_MM))
    return made(marks, IN_LINE)


def motor_controller(_parameters: Parameters, positions: Positions) -> Symbol:
    """Draw a box with a ramp and the letter of a motor; the ramp is heavy while it drives."""
    width = 1.0 if is_closed(positions, normal="off") else INNER_MM
    ramp = Path(((-5.2, 2.6), (-1.6, 2.6), (-0.2, -2.2)), "ink", width)
    marks = joined(box(-7.5, -5, 7.5, 5), ramp, centred(3.6, 0.2, "M", 3.2, face="bold"))
    ports = {"in+": left(-7.5, 0), "out": right(7.5, 0), "-": down(0, 5), "signal": up(0, -5)}
    return made(marks, ports)


SYMBOLS: dict[str, Draw] = {
    "plug": plug,
    "motor_controller": motor_controller,
    "battery_switch": battery_switch,
    "emergency_link": emergency_link,
    "selector_switch": selector_switch,
    "disconnector": disconnector,
    "load_switch": load_switch,
    "contactor": contactor,
    "relay": relay,
    "voltage_sensing_relay": voltage_sensing_relay,
    "float_switch": float_switch,
    "push_button": push_button,
    "reversing_contactor": reversing_contactor,
    "ac_transfer_switch": ac_transfer_switch,
}
