"""Kinds that measure and regulate; their sense terminals carry no current that matters."""

from __future__ import annotations

from model.kinds.building import (
    choice,
    fixed_ports,
    number,
    port,
    reference,
    text,
    yes_no,
)
from model.kinds.record import Kind, Link, Parameters, Port


def _shunt_ports(parameters: Parameters) -> tuple[Port, ...]:
    pole = parameters.get("poles", "-")
    return (port("a", pole), port("b", pole), port("sense", "signal"))


SHUNT = Kind(
    "shunt", "Shunt", "B", "measuring",
    "A known small resistance; what passes through it is counted.",
    (
        number("rated_a", "Rated current", "A", "8.5", first=True),
        number("rated_mv", "Drop at that current", "mV", "8.9", first=True),
        reference("measures", "Counts bank", "8.1", first=True),
        number("short_time_a", "Short-time rating", "A", "8.5"),
        choice("poles", "Sits in", "+ -", "8.1"),
    ),
    _shunt_ports,
    lambda _p: (Link("a", "b", "join"),),
    role="measuring", inline=True,
)

MONITOR = Kind(
    "monitor", "Battery monitor", "P", "measuring", "Shows volts, amperes and charge of a bank.",
    (
        yes_no("counts_current", "Counts current", "6.18", first=True),
        yes_no("needs_battery_side", "Needs the battery side of the shunt", "8.9", first=True),
        yes_no("sense_resistors_built_in", "Sense resistors built in", "1.16"),
        number("current_a", "Own consumption", "A", "11.8", first=True),
    ),
    fixed_ports(port("+", "+"), port("-", "-"), port("sense", "signal")),
    lambda _p: (Link("+", "-", "load"),),
    role="load",
)

REGULATOR = Kind(
    "regulator", "Alternator regulator", "A", "measuring",
    "Sets an alternator's field by what the bank needs.",
    (
        reference("regulates", "Regulates", "3.5 6.3", first=True),
        text("profile", "Profile", "3.5", first=True),
        number("absorption_v", "Absorption voltage", "V", "3.5", first=True),
        number("float_v", "Float voltage", "V", "3.5", first=True),
        number("output_cap_a", "Output capped at", "A", "1.13 6.3"),
        yes_no("temperature_sensor", "Temperature sensor", "6.3"),
        yes_no("stop_input", "Stop input", "6.2"),
        text("stages", "Stages", "3.25"),
        yes_no("shares_control", "Shares sense or data with others", "3.13 3.25",
               "The chargers beside it share its battery sense or a data link."),
    ),
    fixed_ports(port("supply", "+"), port("-", "-"), port("field", "signal"),
                port("sense", "signal")),
    role="measuring",
)

POLARITY_INDICATOR = Kind(
    "polarity_indicator", "Polarity indicator", "P", "measuring",
    "Lights when live and neutral are swapped.",
    (yes_no("audible", "Audible too", "9.3", first=True),),
    fixed_ports(Port("ac", {"L": "L", "N": "N", "E": "E"})),
    role="measuring",
)

EQUALISER = Kind(
    "equaliser", "Equaliser", "A", "measuring",
    "Keeps the halves of a series bank at the same voltage.",
    (number("rated_a", "Rated current", "A", "3.21 6.12", first=True),),
    fixed_ports(port("+", "+"), port("mid", "+"), port("-", "-")),
    role="measuring",
)

KINDS = (SHUNT, MONITOR, REGULATOR, POLARITY_INDICATOR, EQUALISER)
