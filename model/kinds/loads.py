"""Kinds that use energy. One list of roles drives limits, critical and always-on rules."""

from __future__ import annotations

from model.kinds.building import (
    ac_poles,
    choice,
    count,
    dc_ports,
    fixed_ports,
    number,
    port,
    reference,
    text,
    typical,
    yes_no,
)
from model.kinds.record import Field, Kind, Link, Parameters, Port, Typical

ROLES = (
    "generic navigation_light instrument radio autopilot steering engine_control ignition "
    "stop_solenoid glow_plug blower bilge_pump_automatic bilge_pump_manual water_alarm gas_alarm "
    "smoke_alarm co_alarm tracker memory refrigerator heater pump winch windlass thruster starter "
    "propulsion lamp socket entertainment"
)

ALWAYS_ON_ROLES = frozenset(
    {"bilge_pump_automatic", "water_alarm", "gas_alarm", "smoke_alarm", "co_alarm", "tracker",
     "memory"}
)


def _load_fields(role: str, current: Typical | None, *extra: Field) -> tuple[Field, ...]:
    return (
        choice("role", "What it is for", ROLES, "2.1 2.2 4.2 10.1", first=True,
               typical=typical(role)),
        number("current_a", "Current", "A", "1.5 4.1 11.1", first=True, typical=current),
        number("power_w", "Power", "W", "1.5 4.1 11.1", first=True),
        number("resistance_ohm", "Resistance", "ohm", "1.5"),
        number("nominal_v", "Nominal voltage", "V", "3.4"),
        *extra,
        number("peak_a", "Peak current", "A", "1.17 4.4"),
        number("locked_rotor_a", "Locked-rotor current", "A", "1.17 10.2"),
        number("run_s", "Longest run", "s", "1.17"),
        number("minutes_per_day", "Minutes a day", "min", "11.1", maximum=1440),
        yes_no("intermittent", "Runs for short times only", "1.5 1.6"),
        number("standby_a", "Drain when off", "A", "5.13"),
        yes_no("critical", "Critical", "2.2 4.2"),
        yes_no("stays_live", "Meant to stay live", "2.2 10.1",
               "Live with every switch off, on purpose."),
        text("never_with", "Never together with group", "1.5"),
        number("maker_fuse_min_a", "Maker's smallest fuse", "A", "1.17"),
        number("maker_fuse_max_a", "Maker's largest fuse", "A", "1.17"),
        number("maker_min_v", "Maker's lowest voltage", "V", "4.3"),
        yes_no("maker_table", "Use of the maker's short-time table", "4.1"),
        yes_no("own_switch", "Own switch", "10.3"),
        yes_no("own_fuse", "Own fuse", "10.5"),
        yes_no("own_battery", "Own battery", "10.9"),
        yes_no("thermal_cutout", "Thermal cut-out", "1.17"),
        choice("input_capacitors", "Input capacitors", "none large", "6.13"),
        yes_no("soft_start", "Charges its capacitors softly", "6.13"),
        yes_no("two_feeds_wanted", "Two feeds on purpose", "2.10"),
        reference("stop_within_reach", "Stopped by", "10.12"),
    )


def _consumes(_parameters: Parameters) -> tuple[Link, ...]:
    return (Link("+", "-", "load"),)


def _load(slug: str, title: str, letter: str, sentence: str, role: str = "generic",
          current_a: float | None = None, source: str = "common practice, no source",
          *extra: Field) -> Kind:
    current = typical(current_a, source) if current_a is not None else None
    return Kind(slug, title, letter, "loads", sentence, _load_fields(role, current, *extra),
                dc_ports(), _consumes, role="load")


LOAD = _load("load", "Load", "E", "Any DC consumer.")
LAMP = _load("lamp", "Lamp", "E", "Lights of one circuit.", "lamp", 1.2)
NAVIGATION_LIGHT = _load("navigation_light", "Navigation light", "E",
                         "A light the collision rules ask for.", "navigation_light", 0.8)
PUMP = _load("pump", "Pump", "M", "Moves water.", "pump", 6.0)
BILGE_PUMP = _load("bilge_pump", "Bilge pump", "M", "Keeps the boat afloat.",
                   "bilge_pump_automatic", 8.0)
MOTOR = _load("motor", "Motor", "M", "Any DC motor, a fan for example.", "generic")
WINDLASS = _load("windlass", "Windlass", "M", "Lifts the anchor.", "windlass", 90,
                 "boatpartsdatabase.com: 40 A light to 140 A loaded, 1000 W at 12 V")
THRUSTER = _load("thruster", "Bow thruster", "M", "Pushes the bow aside.", "thruster", 380,
                 "joana.ca, 2021-06: over 300 A, 4 kW at 12 V")
HEATER = _load("heater", "Heater", "E", "Resistive heater or heater's ignition.", "heater")
REFRIGERATOR = _load("refrigerator", "Refrigerator", "E", "Compressor refrigerator.",
                     "refrigerator", 4.5)
RADIO = _load("radio", "Radio", "E", "Transmitter and receiver.", "radio", 5.0)
INSTRUMENT = _load("instrument", "Instrument", "P", "Plotter, sounder, sensor.", "instrument", 0.9)
AUTOPILOT = _load("autopilot", "Autopilot", "M", "Steers.", "autopilot", 4.5)
SOCKET = _load("socket", "DC socket", "X", "Outlet for portable things.", "socket")
ALARM = _load("alarm", "Alarm", "B", "Bilge, smoke or other alarm.", "water_alarm", 0.05)
GAS_ALARM = _load("gas_alarm", "Gas alarm", "B", "Sniffs for gas.", "gas_alarm", 0.8)
CLOCK = _load("memory_feed", "Clock or memory", "A", "Small feed that keeps time or settings.",
              "memory", 0.05)
TRACKER = _load("tracker", "Tracker", "E", "Tells where the boat is when nobody is aboard.",
                "tracker", 0.1)
DUMP_LOAD = _load("dump_load", "Diversion load", "E",
                  "Turns into heat what a wind generator makes too much.")

AC_FIELDS = (
    number("rated_w", "Power", "W", "9.8 9.16", first=True),
    yes_no("double_insulated", "Double insulated", "9.7", first=True),
    yes_no("portable", "Portable", "9.12"),
    yes_no("heater", "Heats", "9.16"),
    count("ground_fault_ma", "Residual current trip", "9.12", unit="mA"),
)

AC_LOAD = Kind(
    "ac_load", "AC load", "E", "alternating", "Any AC consumer.", AC_FIELDS,
    fixed_ports(Port("ac", ac_poles(""))), lambda _p: (Link("L", "N", "load"),), role="load",
)
AC_SOCKET = Kind(
    "ac_socket", "AC socket", "X", "alternating", "AC outlet.", AC_FIELDS,
    fixed_ports(Port("ac", ac_poles(""))), lambda _p: (Link("L", "N", "load"),), role="load",
)

BOX = Kind(
    "box", "Plain box", "A", "loads", "Anything this program has no symbol for.",
    (text("what", "What it is", first=True), number("current_a", "Current", "A", first=True)),
    dc_ports(port("signal", "signal")), _consumes, role="load",
)

KINDS = (
    LOAD, LAMP, NAVIGATION_LIGHT, PUMP, BILGE_PUMP, MOTOR, WINDLASS, THRUSTER, HEATER,
    REFRIGERATOR, RADIO, INSTRUMENT, AUTOPILOT, SOCKET, ALARM, GAS_ALARM, CLOCK, DUMP_LOAD,
    AC_LOAD, AC_SOCKET, BOX, TRACKER,
)
