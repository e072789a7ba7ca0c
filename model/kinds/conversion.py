"""Kinds that turn one form of electricity into another. Each limits its own output."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from model.kinds.building import (
    ac_poles,
    choice,
    dc_ports,
    fixed_ports,
    number,
    port,
    reference,
    text,
    typical,
    yes_no,
)
from model.kinds.record import Field, Kind, Link, Parameters, Port

STAGES = (
    number("absorption_v", "Absorption voltage", "V", "3.5 3.19"),
    number("float_v", "Float voltage", "V", "3.5", "0 when it has no float stage."),
    yes_no("temperature_compensation", "Compensation by temperature", "3.5",
           "It lowers its volts when the battery is warm."),
    yes_no("shares_control", "Shares sense or data with others", "3.13",
           "The chargers beside it share a battery sense, a data link or a common limit."),
)

WIDE_RANGE = yes_no("wide_range", "Suits several voltages", "3.4",
                    "Made for systems of several voltages, and set to this one.")
SENSE = choice("sense", "Senses at", "output own_terminal", "3.6 3.19")

SOLAR_CONTROLLER = Kind(
    "solar_controller", "Solar controller", "T", "conversion",
    "Charges a bank from an array.",
    (
        choice("type", "Type", "mppt pwm", "3.18", first=True),
        number("rated_output_a", "Rated output", "A", "1.10 1.11 3.17", first=True),
        number("max_input_v", "Highest input voltage", "V", "3.16", first=True),
        number("max_input_a", "Highest input current", "A", "3.17"),
        number("output_v", "Nominal output voltage", "V", "3.4"),
        WIDE_RANGE,
        *STAGES,
        yes_no("survives_no_battery", "Maker allows losing the battery", "2.4"),
        SENSE,
        yes_no("oversizing_allowed", "Maker allows a larger array", "3.18"),
    ),
    fixed_ports(
        Port("pv+", {"+": "pv+", "-": "-"}), port("pv-", "-", "-"),
        Port("out+", {"+": "out+", "-": "-"}), port("out-", "-", "-"), port("sense", "signal"),
    ),
    lambda _p: (Link("pv+", "out+", "converter", one_way=True),),
    role="converter",
)

WIND_CONTROLLER = Kind(
    "wind_controller", "Wind controller", "T", "conversion",
    "Charges a bank from a wind or water generator and diverts what is too much.",
    (
        number("rated_output_a", "Rated output", "A", "1.10 1.11", first=True),
        number("output_v", "Nominal output voltage", "V", "3.4", first=True),
        *STAGES,
        yes_no("survives_no_battery", "Maker allows losing the battery", "2.4"),
        reference("dump_load", "Diversion load", "3.22"),
    ),
    fixed_ports(
        Port("in+", {"+": "in+", "-": "-"}),
        Port("out+", {"+": "out+", "-": "-"}), port("out-", "-", "-"), port("dump", "+"),
    ),
    lambda _p: (
        Link("in+", "out+", "converter", one_way=True),
        Link("in+", "dump", "converter", one_way=True),
    ),
    role="converter",
)

OUTPUT_COLUMNS = (
    text("id", "Output"),
    number("rated_a", "Rated current", "A"),
    yes_no("isolated", "Isolated from the others"),
)


def output_ids(parameters: Parameters) -> tuple[str, ...]:
    """Return the ids of a charger's outputs: of its list, or 1 to `output_count`."""
    outputs = parameters.get("outputs", ())
    if outputs:
        return tuple(output["id"] for output in outputs)
    return tuple(str(i + 1) for i in range(parameters.get("output_count", 1)))


def _charger_ports(parameters: Parameters) -> tuple[Port, ...]:
    outputs = (Port(f"{i}+", {"+": f"{i}+", "-": "-"}) for i in output_ids(parameters))
    return (Port("ac", ac_poles("")), *outputs, port("-", "-"))


SHORE_CHARGER = Kind(
    "shore_charger", "Shore charger", "T", "conversion",
    "Charges one to three banks from an AC supply.",
    (
        number("rated_a", "Rated output", "A", "1.10 1.11 3.13", first=True),
        Field("output_count", "Outputs", "count", minimum=1, maximum=3, first=True,
              sentence="How many separate outputs it has."),
        number("output_v", "Nominal output voltage", "V", "3.4", first=True),
        Field("outputs", "Outputs by name", "records", columns=OUTPUT_COLUMNS),
        WIDE_RANGE,
        *STAGES,
        SENSE,
        number("equalise_v", "Equalising voltage", "V", "3.5"),
        text("profile", "Charging profile", "3.5"),
        yes_no("temperature_sensor", "Temperature sensor", "3.20"),
        yes_no("power_share", "Limits its AC current", "9.16"),
        yes_no("double_insulated", "Double insulated", "9.7"),
        yes_no("case_terminal", "Case terminal", "7.8"),
        yes_no("held_off_by_inverter", "Held off while the inverter runs", "9.7"),
        number("standby_w", "Standby power", "W", "9.16"),
    ),
    _charger_ports,
    lambda p: tuple(Link("L", f"{i}+", "converter", one_way=True) for i in output_ids(p)),
    role="converter",
)

DC_FIELDS = (
    number("input_v", "Nominal input voltage", "V", "3.4 3.15", first=True),
    number("output_v", "Nominal output voltage", "V", "3.4", first=True),
    number("rated_output_a", "Rated output", "A", "1.10 1.11 3.12", first=True),
    yes_no("isolated", "Isolated", "8.12", sentence="Input and output share no conductor."),
    number("input_min_v", "Lowest input voltage", "V", "3.15"),
    number("input_max_v", "Highest input voltage", "V", "3.15"),
    number("efficiency", "Efficiency", "of one", "3.12", maximum=1),
    number("standby_a", "Standby current", "A", "11.11"),
)


def _dc_ports(parameters: Parameters) -> tuple[Port, ...]:
    out_minus = "out-" if parameters.get("isolated") else "-"
    return (
        Port("in+", {"+": "in+", "-": "-"}),
        Port("out+", {"+": "out+", "-": out_minus}),
        port("-", "-"), port("out-", "-", out_minus), port("run", "signal"),
    )


def _one_way(_parameters: Parameters) -> tuple[Link, ...]:
    return (Link("in+", "out+", "converter", one_way=True),)


DC_DC_CONVERTER = Kind(
    "dc_dc_converter", "DC-DC converter", "T", "conversion",
    "Supplies loads of another voltage.",
    DC_FIELDS, _dc_ports, _one_way, role="converter",
)

DC_DC_CHARGER = Kind(
    "dc_dc_charger", "DC-DC charger", "T", "conversion",
    "Charges one bank from another.",
    (
        *DC_FIELDS,
        *STAGES,
        SENSE,
        number("start_above_v", "Starts above", "V", "3.11"),
        number("stop_below_v", "Stops below", "V", "3.11"),
        choice("run_signal", "Run signal", "none wired", "3.11"),
        number("current_limit_a", "Input limited to", "A", "3.12"),
        yes_no("survives_no_battery", "Maker allows losing the battery", "2.4"),
    ),
    _dc_ports, _one_way, role="converter",
)


def _splitter_ports(parameters: Parameters) -> tuple[Port, ...]:
    outs = parameters.get("output_count", 2)
    return (port("in", "+"), *(port(f"out{i + 1}", "+") for i in range(outs)))


DIODE_ISOLATOR = Kind(
    "diode_isolator", "Diode isolator", "R", "conversion",
    "Lets one source charge several banks, each through a diode that takes some volts.",
    (
        Field("output_count", "Outputs", "count", minimum=2, maximum=3, first=True),
        choice("type", "Type", "silicon schottky transistor", "3.6", first=True),
        number("rated_a", "Rated current", "A", "1.14", first=True),
        number("drop_v", "Forward drop", "V", "3.6", typical=typical(0.7)),
        number("drop_at_a", "at a current of", "A", "3.6"),
        yes_no("start_feed", "Starter feed terminal", "2.14"),
    ),
    _splitter_ports,
    lambda p: tuple(
        Link("in", f"out{i + 1}", "diode", one_way=True) for i in range(p.get("output_count", 2))
    ),
    role="converter",
)

INVERTER_FIELDS = (
    number("rated_w", "Rated power", "W", "1.25 11.6", first=True),
    number("input_v", "Nominal DC voltage", "V", "3.4", first=True),
    number("output_v", "AC voltage", "V", "9.4", first=True, typical=typical(230)),
    number("peak_w", "Peak power", "W", "1.25"),
    number("min_dc_v", "Lowest DC voltage", "V", "11.6"),
    number("efficiency", "Efficiency", "of one", "1.25 11.6", maximum=1),
    number("maker_fuse_a", "Maker's own fuse", "A", "1.25"),
    number("idle_a", "Idle current", "A", "11.8"),
    number("dc_limit_a", "DC current limited to", "A", "6.8"),
    yes_no("for_fixed_wiring", "Made for fixed wiring", "9.13"),
    choice("output_neutral", "Output neutral", "floating bonded relay_bonded", "9.4 9.5"),
    yes_no("soft_start", "Charges its capacitors softly", "6.13"),
    yes_no("case_terminal", "Case terminal", "7.8"),
)

INVERTER = Kind(
    "inverter", "Inverter", "T", "conversion",
    "Makes AC from a bank. Its capacitors stay charged after it is switched off.",
    INVERTER_FIELDS,
    dc_ports(Port("ac", ac_poles(""))),
    lambda _p: (Link("+", "L", "converter", one_way=True), Link("+", "-", "load")),
    role="converter",
)

INVERTER_CHARGER = Kind(
    "inverter_charger", "Inverter-charger", "T", "conversion",
    "Makes AC from the bank, charges the bank from AC, and passes shore power through.",
    (
        *INVERTER_FIELDS,
        number("charge_a", "Charging current", "A", "1.10 3.13", first=True),
        number("transfer_a", "Transfer rating", "A", "9.10"),
        number("input_limit_a", "AC input limit", "A", "9.16"),
        yes_no("synchronising", "Synchronises", "9.15"),
        yes_no("survives_no_battery", "Maker allows losing the battery", "2.4"),
        *STAGES,
    ),
    fixed_ports(
        Port("ac_in", ac_poles("in")), Port("ac_out", ac_poles("out")),
        Port("+", {"+": "+", "-": "-"}), port("-", "-"), port("remote", "signal"),
    ),
    lambda _p: (
        Link("+", "outL", "converter", one_way=True),
        Link("inL", "+", "converter", one_way=True),
        Link("inL", "outL", "converter", one_way=True),
        Link("inE", "outE", "join"),
        Link("+", "-", "load"),
    ),
    role="converter",
)

KINDS = (
    SOLAR_CONTROLLER, WIND_CONTROLLER, SHORE_CHARGER, DC_DC_CONVERTER, DC_DC_CHARGER,
    DIODE_ISOLATOR, INVERTER, INVERTER_CHARGER,
)


def charging_kinds() -> Mapping[str, Any]:
    """Return slug -> the parameter that holds the output current, for kinds that charge banks."""
    return {
        "solar_controller": "rated_output_a",
        "wind_controller": "rated_output_a",
        "shore_charger": "rated_a",
        "dc_dc_charger": "rated_output_a",
        "inverter_charger": "charge_a",
    }
