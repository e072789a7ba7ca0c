"""Kinds that open and close circuits."""

from __future__ import annotations

from collections.abc import Callable

from model.kinds.building import (
    CLOSED,
    choice,
    number,
    on_off,
    port,
    reference,
    text,
    through_links,
    through_ports,
    yes_no,
)
from model.kinds.record import Handle, Kind, Link, Parameters, Port

SWITCH_FIELDS = (
    number("rated_continuous_a", "Continuous rating", "A", "2.5", first=True),
    choice("normal", "Normally", "closed open", "2.2 starter", first=True),
    choice("role", "Duty", "bank load emergency_link changeover source_stop", "2.1 2.2",
           first=True),
    choice("poles", "Opens", "+ - both", "2.9", first=True),
    number("rated_intermittent_a", "Short-time rating", "A", "2.5"),
    number("rated_cranking_a", "Cranking rating", "A", "2.5"),
    number("rated_v", "Rated voltage", "V", "1.8"),
    choice("remote", "Remote", "none with_override without", "2.1"),
    text("kills", "Kills", "2.3"),
    yes_no("lockable", "Can be locked", "12.3"),
    yes_no("within_reach", "Within reach at once", "2.11"),
)


def _normal(parameters: Parameters) -> str:
    return "off" if parameters.get("normal") == "open" else "on"


def _contact(parameters: Parameters) -> tuple[Link, ...]:
    return through_links(
        parameters,
        lambda a, b: Link(a, b, "contact", handle="", closed_in=CLOSED, device=parameters),
    )


def _manual(parameters: Parameters) -> tuple[Handle, ...]:
    return on_off(_normal(parameters))


def _automatic(parameters: Parameters) -> tuple[Handle, ...]:
    return on_off(
        _normal(parameters), manual=parameters.get("remote") == "with_override", isolates=False
    )


def _manual_open(parameters: Parameters) -> tuple[Handle, ...]:
    return on_off("on" if parameters.get("normal") == "closed" else "off")


def _switch(
    slug: str, title: str, letter: str, sentence: str,
    handles: Callable[[Parameters], tuple[Handle, ...]] = _manual,
) -> Kind:
    return Kind(slug, title, letter, "switching", sentence, SWITCH_FIELDS,
                through_ports, _contact, handles, role="switch", inline=True)


BATTERY_SWITCH = _switch("battery_switch", "Battery switch", "Q",
                         "Main switch of a bank, worked by hand.")
EMERGENCY_LINK = _switch("emergency_link", "Emergency link", "Q",
                         "Normally open switch that joins two banks in need.", _manual_open)
DISCONNECTOR = _switch("disconnector", "Disconnector", "Q",
                       "Isolates a source or part; not meant to break current.")
LOAD_SWITCH = _switch("load_switch", "Load switch", "S", "Switches one circuit.")

CONTROL_FIELDS = (
    reference("driven_by", "Driven by", "6.1 6.10 10.1 10.10"),
    number("coil_a", "Coil current", "A", "2.12"),
    yes_no("latching", "Latching", "2.12 10.1"),
)

CONTACTOR = Kind(
    "contactor", "Contactor", "K", "switching",
    "Switch worked by a coil or a management unit.",
    (*SWITCH_FIELDS, *CONTROL_FIELDS, yes_no("pre_charge", "Pre-charge", "6.13")),
    lambda p: (*through_ports(p), port("coil+", "signal"), port("coil-", "signal")),
    _contact, _automatic, role="switch", inline=True,
)

RELAY = Kind(
    "relay", "Relay", "K", "switching", "Small contact worked by a coil.",
    (*SWITCH_FIELDS, *CONTROL_FIELDS),
    lambda p: (*through_ports(p), port("coil+", "signal"), port("coil-", "signal")),
    _contact, _automatic, role="switch", inline=True,
)

VOLTAGE_SENSING_RELAY = Kind(
    "voltage_sensing_relay", "Voltage-sensing relay", "K", "switching",
    "Joins two banks while one of them is being charged.",
    (
        number("rated_a", "Rated current", "A", "1.14 2.5 3.9", first=True),
        number("close_above_v", "Closes above", "V", "3.10", first=True),
        number("open_below_v", "Opens below", "V", "3.10", first=True),
        number("close_delay_s", "Delay", "s", "3.8"),
        choice("senses", "Senses", "a b both", "3.10", first=True),
        yes_no("run_signal_only", "Closes by run signal only", "3.8 3.10"),
        yes_no("opens_on_discharge", "Opens on high discharge", "3.9",
               "Limits the current through it, or opens when too much is drawn."),
    ),
    lambda _p: (port("a", "+", "a+"), port("b", "+", "b+"), port("-", "-")),
    lambda p: (Link("a+", "b+", "contact", handle="", closed_in=CLOSED, device=p),),
    lambda _p: on_off("on", manual=False, isolates=False), role="switch",
)

FLOAT_SWITCH = Kind(
    "float_switch", "Float switch", "S", "switching", "Closes when water rises.",
    (
        yes_no("auto_independent_of_manual", "Works whatever the hand switch", "10.1", first=True),
        choice("switched_pole", "Switches", "+ -", "10.11", first=True),
        choice("poles", "Opens", "+ - both", "10.11"),
    ),
    through_ports, _contact, lambda _p: on_off("off", manual=False, isolates=False),
    role="switch", inline=True,
)

PUSH_BUTTON = Kind(
    "push_button", "Push button", "S", "switching", "Closed while it is pressed.",
    (*SWITCH_FIELDS,), through_ports, _contact,
    lambda _p: on_off("off", isolates=False), role="switch", inline=True,
)

SELECTOR_POSITIONS = ("1", "B", "2", "0")


def _selector_links(parameters: Parameters) -> tuple[Link, ...]:
    return (
        Link("1", "c", "contact", "", frozenset({"1", "B"}), device=parameters),
        Link("2", "c", "contact", "", frozenset({"2", "B"}), device=parameters),
    )


SELECTOR = Kind(
    "selector_switch", "Selector switch", "Q", "switching",
    "Joins one bank, the other, both or neither to one common point.",
    (
        number("rated_continuous_a", "Continuous rating", "A", "2.5", first=True),
        choice("normal_position", "Usually at", "1 B 2 0", "2.6 2.7", first=True),
        yes_no("make_before_break", "Makes before it breaks", "2.6", first=True),
        number("rated_intermittent_a", "Short-time rating", "A", "2.5"),
        number("rated_cranking_a", "Cranking rating", "A", "2.5"),
        text("order", "Order around the knob", "2.6"),
        yes_no("field_contacts", "Field cut-out contacts", "2.6"),
        reference("field_contacts_wired_to", "Field cut-out wired to", "2.6"),
        choice("role", "Duty", "bank load changeover", "2.1"),
        text("kills", "Kills", "2.3"),
        text("position_names", "What each position does", "12.3"),
        yes_no("within_reach", "Within reach at once", "2.11"),
    ),
    lambda _p: (port("1", "+"), port("2", "+"), port("c", "+")),
    _selector_links,
    lambda p: (Handle("", SELECTOR_POSITIONS, p.get("normal_position", "1")),),
    role="switch",
)


def _reversing_ports(_parameters: Parameters) -> tuple[Port, ...]:
    return (
        Port("in+", {"+": "in+", "-": "-"}), Port("out", {"+": "out", "-": "-"}),
        port("-", "-"), port("up", "signal"), port("down", "signal"),
    )


REVERSING_CONTACTOR = Kind(
    "reversing_contactor", "Reversing contactor", "K", "switching",
    "Drives a motor one way or the other.",
    (
        number("rated_continuous_a", "Continuous rating", "A", "2.5", first=True),
        number("rated_intermittent_a", "Short-time rating", "A", "2.5", first=True),
        number("rated_v", "Rated voltage", "V", "1.8"),
        number("coil_a", "Coil current", "A", "2.12"),
    ),
    _reversing_ports,
    lambda p: (Link("in+", "out", "contact", "", CLOSED, device=p),),
    lambda _p: on_off("off", manual=False, isolates=False), role="switch",
)

PLUG = Kind(
    "plug", "Plug and socket", "X", "switching",
    "Joined by hand; pulled, it isolates what is behind it.",
    (number("rated_a", "Rated current", "A", "2.1 2.5", first=True),
     number("rated_v", "Rated voltage", "V", "1.8", first=True),
     choice("poles", "Parts", "+ - both", "2.1", first=True)),
    through_ports, _contact, lambda _p: on_off("on"), role="switch", inline=True,
)
MOTOR_CONTROLLER = Kind(
    "motor_controller", "Motor controller", "A", "switching",
    "Sets how fast a motor turns; it conducts while the motor runs.",
    (number("rated_continuous_a", "Continuous rating", "A", "2.5", first=True),
     number("rated_intermittent_a", "Short-time rating", "A", "2.5", first=True),
     number("rated_v", "Rated voltage", "V", "1.8", first=True),
     choice("input_capacitors", "Input capacitors", "none large", "6.13"),
     yes_no("soft_start", "Soft start", "6.13")),
    lambda _p: (Port("in+", {"+": "in+", "-": "-"}), Port("out", {"+": "out", "-": "-"}),
                port("-", "-"), port("signal", "signal")),
    lambda p: (Link("in+", "out", "contact", "", CLOSED, device=p),),
    lambda _p: on_off("off", manual=False, isolates=False), role="switch",
)

KINDS = (
    BATTERY_SWITCH, SELECTOR, EMERGENCY_LINK, DISCONNECTOR, LOAD_SWITCH, CONTACTOR, RELAY,
    VOLTAGE_SENSING_RELAY, FLOAT_SWITCH, PUSH_BUTTON, REVERSING_CONTACTOR,
    PLUG, MOTOR_CONTROLLER,
)
