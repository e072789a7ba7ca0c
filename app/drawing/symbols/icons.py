"""Small signs of what a load is for: light, pump, fan, motor, cooling, heating, outlet, radio,
electronics, any appliance for alternating current, or anything else. They stand in the rows of
panels and, larger, in the box of a plain load.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from app.drawing.marks import Arc, Circle, Mark, Path, Point, Rect, centred, line, polygon
from app.drawing.symbols.shapes import INNER_MM, OUTLINE_MM, blades, sine

ICON_R_MM = 1.9

_FAMILY_OF_ROLE = {
    "lamp": "light", "navigation_light": "light", "glow_plug": "heating",
    "pump": "pump", "bilge_pump": "pump", "bilge_pump_automatic": "pump",
    "bilge_pump_manual": "pump", "blower": "fan", "motor": "motor", "winch": "motor",
    "windlass": "motor", "thruster": "motor", "starter": "motor", "propulsion": "motor",
    "steering": "motor", "autopilot": "motor", "stop_solenoid": "motor",
    "refrigerator": "cooling", "heater": "heating", "dump_load": "heating",
    "socket": "outlet", "ac_socket": "outlet", "radio": "radio", "tracker": "radio",
    "entertainment": "radio", "instrument": "electronics", "monitor": "electronics",
    "water_alarm": "alarm", "gas_alarm": "alarm", "smoke_alarm": "alarm", "co_alarm": "alarm",
    "alarm": "alarm", "ac_load": "appliance", "generic": "general",
}


FRAMED = ("cooling", "electronics", "alarm", "appliance", "general")


def family_of(role: str) -> str:
    """Return the family of a load's role or kind; electronics for what has none."""
    return _FAMILY_OF_ROLE.get(role, "electronics")


def family_icon(role: str, x: float, y: float, r: float = ICON_R_MM) -> list[Mark]:
    """Return the sign of a load's family round a point, `r` being half its width. [mm]."""
    return family_sign(family_of(role), x, y, r)


def family_sign(family: str, x: float, y: float, r: float = ICON_R_MM) -> list[Mark]:
    """Return the sign of one of the FAMILIES round a point; raise KeyError for another."""
    return _DRAWN[family](x, y, r)


def _circle(x: float, y: float, r: float) -> Circle:
    return Circle(x, y, r, "ink", OUTLINE_MM if r > 3 else INNER_MM, "body")


def _square(x: float, y: float, r: float) -> Rect:
    return Rect(x - r, y - r, 2 * r, 2 * r, 0, "ink", OUTLINE_MM if r > 3 else INNER_MM, "body")


def light(x: float, y: float, r: float) -> list[Mark]:
    """Return a lamp: a ring with a cross."""
    d = r * math.sqrt(0.5)
    return [_circle(x, y, r), line(x - d, y - d, x + d, y + d, INNER_MM),
            line(x + d, y - d, x - d, y + d, INNER_MM)]


def pump(x: float, y: float, r: float) -> list[Mark]:
    """Return a pump: a ring with a filled triangle that points to the right."""
    return [_circle(x, y, r),
            polygon([(x - 0.5 * r, y - 0.87 * r), (x - 0.5 * r, y + 0.87 * r), (x + r, y)])]


def fan(x: float, y: float, r: float) -> list[Mark]:
    """Return a fan: three blades in a ring."""
    return [_circle(x, y, r), *blades(x, y, 0.85 * r, 0.5)]


def motor(x: float, y: float, r: float) -> list[Mark]:
    """Return a motor: M in a ring."""
    return [_circle(x, y, r), centred(x, y, "M", 1.15 * r)]


def cooling(x: float, y: float, r: float) -> list[Mark]:
    """Return cooling: a star of frost in a square."""
    marks: list[Mark] = [_square(x, y, r)]
    for angle in (30, 90, 150):
        c, s = math.cos(math.radians(angle)), math.sin(math.radians(angle))
        d = 0.7 * r
        marks.append(line(x - d * c, y - d * s, x + d * c, y + d * s, INNER_MM))
    return marks


def heating(x: float, y: float, r: float) -> list[Mark]:
    """Return heating: an upright row of cells."""
    half = 0.62 * r
    marks: list[Mark] = [Rect(x - half, y - r, 2 * half, 2 * r, 0, "ink", INNER_MM, "body")]
    for part in (-0.5, 0.0, 0.5):
        marks.append(line(x - half, y + part * r, x + half, y + part * r, INNER_MM))
    return marks


def outlet(x: float, y: float, r: float) -> list[Mark]:
    """Return an outlet: half a ring on its bar."""
    return [Path(half_ring(x, y + 0.45 * r, 0.85 * r), "ink", INNER_MM, closed=True, fill="body"),
            line(x - r, y + 0.45 * r, x + r, y + 0.45 * r, OUTLINE_MM),
            line(x, y - 0.4 * r, x, y - r, INNER_MM)]


def half_ring(x: float, y: float, r: float) -> tuple[Point, ...]:
    """Return points along the upper half of a ring, left to right."""
    return tuple((x - r * math.cos(i * math.pi / 12), y - r * math.sin(i * math.pi / 12))
                 for i in range(13))


def radio(x: float, y: float, r: float) -> list[Mark]:
    """Return a radio: a box under an aerial."""
    return [Rect(x - r, y - 0.35 * r, 2 * r, 1.35 * r, 0, "ink", INNER_MM, "body"),
            line(x, y - 0.35 * r, x, y - 1.1 * r, INNER_MM),
            line(x - 0.6 * r, y - 1.1 * r, x, y - 0.5 * r, INNER_MM),
            line(x + 0.6 * r, y - 1.1 * r, x, y - 0.5 * r, INNER_MM)]


def electronics(x: float, y: float, r: float) -> list[Mark]:
    """Return electronics: a trace in a square."""
    trace = ((x - 0.65 * r, y + 0.35 * r), (x - 0.2 * r, y - 0.3 * r),
             (x + 0.15 * r, y + 0.25 * r), (x + 0.65 * r, y - 0.4 * r))
    return [_square(x, y, r), Path(trace, "ink", INNER_MM)]


def general(x: float, y: float, r: float) -> list[Mark]:
    """Return whatever takes current: an arrow into a square."""
    return [_square(x, y, r), line(x, y - 0.6 * r, x, y + 0.1 * r, INNER_MM),
            polygon([(x - 0.4 * r, y), (x + 0.4 * r, y), (x, y + 0.65 * r)])]


def appliance(x: float, y: float, r: float) -> list[Mark]:
    """Return an appliance for alternating current: its wave in a square."""
    return [_square(x, y, r), sine(x, y, 1.3 * r, 0.8 * r)]


def alarm(x: float, y: float, r: float) -> list[Mark]:
    """Return an alarm: a bell under two waves, in a square."""
    bell = Path(half_ring(x, y + 0.45 * r, 0.42 * r), "ink", INNER_MM, closed=True)
    marks: list[Mark] = [_square(x, y, r), bell,
                         line(x, y + 0.45 * r, x, y + 0.72 * r, INNER_MM)]
    for wide in (0.68, 0.94) if r > 3 else (0.75,):
        marks.append(Arc(x, y + 0.45 * r, wide * r, -140, 100, "ink", INNER_MM))
    return marks


_DRAWN: dict[str, Callable[[float, float, float], list[Mark]]] = {
    "light": light, "pump": pump, "fan": fan, "motor": motor, "cooling": cooling,
    "heating": heating, "outlet": outlet, "radio": radio, "electronics": electronics,
    "alarm": alarm, "appliance": appliance, "general": general,
}
FAMILIES = tuple(_DRAWN)
