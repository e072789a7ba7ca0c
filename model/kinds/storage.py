"""Kinds that store energy."""

from __future__ import annotations

import itertools
from collections.abc import Mapping

from model.kinds.building import (
    choice,
    count,
    fixed_ports,
    number,
    port,
    reference,
    text,
    typical,
    yes_no,
)
from model.kinds.record import EnergySource, Field, Kind, Link, Parameters, Port

TAP_COLUMNS = (text("id", "Tap"), count("after_block", "After block", minimum=1))


def _battery_ports(parameters: Parameters) -> tuple[Port, ...]:
    taps = tuple(port(f"tap_{tap['id']}", "+") for tap in parameters.get("taps", ()))
    return (port("+", "+"), port("-", "-"), *taps)


def _battery_links(parameters: Parameters) -> tuple[Link, ...]:
    """From minus to plus through the cells; taps split the string in order."""
    taps = sorted(parameters.get("taps", ()), key=lambda tap: tap.get("after_block", 1))
    nodes = ["-", *(f"tap_{tap['id']}" for tap in taps), "+"]
    return tuple(Link(a, b, "source") for a, b in itertools.pairwise(nodes))


def nominal_v(parameters: Mapping[str, object]) -> float | None:
    """Return the nominal volts of a bank of equal blocks, None when not stated. [V]."""
    block = parameters.get("block_nominal_v")
    series = parameters.get("series_count", 1)
    if not isinstance(block, int | float) or not isinstance(series, int):
        return None
    return float(block) * series


LITHIUM = frozenset({"lfp", "other_lithium"})
# Labels of one nominal voltage: 12.8 V of lithium stands in 12 V systems, 51.2 V in 48 V.
# The nearest other system, 36 V beside 48 V, is a third away. Common practice, no source.
LABEL_RATIO = 1.1


def is_same_nominal(one_v: float, other_v: float) -> bool:
    """Say whether two nominal voltages are of one system, whatever a battery's label counts."""
    low_v, high_v = sorted((abs(one_v), abs(other_v)))
    return high_v <= low_v * LABEL_RATIO


BATTERY_BANK = Kind(
    "battery_bank", "Battery bank", "G", "storage",
    "One battery, or equal blocks joined in series and parallel.",
    (
        choice("chemistry", "Chemistry", "flooded agm gel lfp other_lithium",
               "3.5 3.10 3.13 5.1 6.1 12.11", first=True),
        number("block_nominal_v", "Volts of one block", "V", "2.8 3.4 5.3", first=True,
               typical=typical(12)),
        number("capacity_ah", "Capacity of the whole bank", "Ah", "5.5 6.6 11.1", first=True),
        choice("duty", "Made for", "start house dual thruster", "2.16 5.6 5.7 5.12 6.14",
               first=True),
        count("series_count", "Blocks in series", "5.3", minimum=1, typical=typical(1)),
        count("parallel_count", "Strings in parallel", "1.15 5.4", minimum=1, typical=typical(1)),
        number("cranking_a", "Cranking current", "A", "1.7 2.1 5.6"),
        choice("cranking_standard", "Cranking standard", "CCA_SAE EN MCA", "1.7"),
        number("internal_resistance_ohm", "Internal resistance", "ohm", "1.7 1.9 6.6"),
        number("short_circuit_a", "Short-circuit current, maker's", "A", "1.7 1.9 6.6"),
        number("rest_v", "Rest voltage", "V", "1.7 3.10 3.11"),
        number("max_charge_v", "Highest charging voltage", "V", "1.8 3.4 3.5 6.7"),
        number("float_v", "Float voltage", "V", "3.5"),
        number("max_charge_a", "Highest charging current", "A", "3.13 6.7"),
        number("max_discharge_a", "Highest discharge current", "A", "5.8 6.8"),
        number("peak_discharge_a", "Peak discharge current", "A", "5.8 6.8"),
        text("model_text", "Model", "5.2"),
        Field("taps", "Taps", "records", columns=TAP_COLUMNS, checks=("3.21", "5.4")),
        choice("takeoff", "Take-off", "diagonal same_block busbars", "5.4"),
        choice("block_fuses", "Fuse on each block", "each none", "1.15 6.17"),
        choice("management", "Management unit", "none internal external", "6.1"),
        reference("management_unit", "The external unit", "6.1"),
        choice("alarm", "Alarm before it opens", "none sounder screen_with_sound", "6.4"),
        yes_no("reports_state_of_charge", "Reports state of charge", "6.18"),
        yes_no("cold_charge_cutoff", "Stops charging when cold", "6.9"),
        yes_no("heated", "Heated", "6.9"),
        count("max_in_series", "Most in series", "6.12"),
        count("max_in_parallel", "Most in parallel", "6.12"),
        yes_no("alternator_approved", "Maker allows an alternator", "6.14"),
        number("min_c", "Coldest place", "C", "6.16", minimum=-60),
        number("max_c", "Warmest place", "C", "6.16"),
        yes_no("hold_down", "Held down", "5.10"),
        yes_no("covered", "Terminals covered", "5.9"),
        yes_no("boxed", "In a box", "5.9 5.11"),
        yes_no("vented_overboard", "Vented overboard", "5.11"),
        yes_no("below_fuel_gear", "Below fuel gear", "5.15"),
        yes_no("above_fuel_gear", "Above fuel gear", "5.15"),
        yes_no("under_charger", "Under a charger", "5.11"),
        number("tested_capacity_ah", "Tested capacity", "Ah", "5.14"),
        text("tested_on", "Tested on", "5.14"),
    ),
    _battery_ports, _battery_links,
    source=EnergySource("battery", ("+",), "H"), role="storage",
)

BATTERY_MANAGEMENT_UNIT = Kind(
    "battery_management_unit", "Battery management unit", "A", "storage",
    "Watches the cells of a lithium bank and opens its contactors.",
    (
        choice("alarm", "Alarm before it opens", "none sounder screen_with_sound", "6.4",
               first=True),
        yes_no("reports_state_of_charge", "Reports state of charge", "6.18", first=True),
        number("charge_limit_a", "Charge limit", "A", "6.7", first=True),
        number("discharge_limit_a", "Discharge limit", "A", "6.8", first=True),
        Field("drives", "Drives", "records",
              columns=(text("id", "Component"), choice("role", "Role", "charge load both")),
              checks=("6.1", "6.10")),
        Field("stops", "Stops first", "ids", checks=("6.1", "6.2", "6.10")),
        Field("limits", "Limits the sources", "ids", checks=("6.7", "6.10")),
    ),
    fixed_ports(port("supply", "+"), port("-", "-"), port("trip", "signal")),
    role="measuring",
)

KINDS = (BATTERY_BANK, BATTERY_MANAGEMENT_UNIT)
