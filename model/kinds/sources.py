"""Kinds that bring energy aboard: engine, alternator, sun, wind, shore, generating set."""

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
    references,
    typical,
    yes_no,
)
from model.kinds.record import EnergySource, Handle, Kind, Link, Port

ENGINE = Kind(
    "engine_block", "Engine", "M", "sources",
    "The engine block: what is bolted to it shares its negative.",
    (
        choice("fuel", "Fuel", "diesel petrol", "1.23 7.13", first=True),
        choice("type", "Type", "inboard outboard", "2.1", first=True),
        choice("stop", "Stopped by", "mechanical needs_power", "2.17", first=True),
        yes_no("runs_without_power", "Runs without power", "2.17"),
        number("cranking_need_a", "Cranking need", "A", "5.6"),
        number("max_starter_drop_v", "Starter drop allowed", "V", "4.4"),
        yes_no("hand_start", "Can be started by hand", "5.6"),
    ),
    fixed_ports(*(port(f"n{i}", "-", "block") for i in range(1, 5))),
    role="engine",
)

ALTERNATOR = Kind(
    "alternator", "Alternator", "G", "sources",
    "Generator driven by an engine; it must never lose its battery while it runs.",
    (
        number("rated_a", "Rated output", "A", "1.13 3.13 11.5", first=True),
        number("nominal_v", "Nominal voltage", "V", "3.4", first=True, typical=typical(12)),
        reference("driven_by", "Driven by engine", "2.6 5.6", first=True),
        choice("regulation", "Regulation", "internal external", "3.5 3.7 6.3", first=True),
        reference("regulator", "The external regulator", "3.5 6.3"),
        number("set_v", "Regulated voltage", "V", "3.5 3.6",
               typical=typical(14.4)),
        number("hot_fraction", "Output when hot", "of rated", "3.12", maximum=1),
        number("idle_fraction", "Output at idle", "of rated", "3.12", maximum=1),
        choice("sense", "Senses at", "machine own_terminal", "3.6"),
        yes_no("temperature_sensor", "Temperature sensor", "6.3"),
        number("output_cap_a", "Output capped at", "A", "1.13 6.3"),
        yes_no("surge_protected", "Surge protection", "2.6"),
        references("stops_on", "Field can be stopped by", "6.2"),
    ),
    dc_ports(port("field", "signal")),
    source=EnergySource("alternator", ("+",), "A"), role="source",
)

SOLAR_ARRAY = Kind(
    "solar_array", "Solar array", "G", "sources",
    "Panels joined into one array; live whenever there is light.",
    (
        number("panel_w", "Power of one panel", "W", "3.16 11.1", first=True),
        count("series_count", "Panels in series", "3.16", first=True, minimum=1),
        count("parallel_count", "Strings in parallel", "1.22 3.17", first=True, minimum=1),
        number("panel_voc_v", "Open-circuit voltage", "V", "3.16", first=True),
        number("panel_vmp_v", "Voltage at full power", "V", "3.18"),
        number("panel_isc_a", "Short-circuit current", "A", "1.22 3.17"),
        number("max_series_fuse_a", "Largest string fuse", "A", "1.22"),
        number("voc_temperature_coefficient_per_k", "Voltage change by temperature", "1/K", "3.16",
               minimum=-0.02, maximum=0.02),
        choice("string_fuses", "Fuse on each string", "each none", "1.22"),
        yes_no("blocking_diodes", "Blocking diodes", "3.3"),
        number("tilt_deg", "Tilt", "deg", "11.1", maximum=90),
        number("shade_fraction", "Shaded part", "of the day", "11.1", maximum=1),
    ),
    dc_ports(),
    source=EnergySource("sun", ("+",), "P"), role="source",
)

WIND_GENERATOR = Kind(
    "wind_generator", "Wind generator", "G", "sources",
    "Turns in the wind; it must be braked or loaded, never just disconnected.",
    (
        number("rated_a", "Rated output", "A", "3.22 11.1", first=True),
        number("nominal_v", "Nominal voltage", "V", "3.4", first=True),
        choice("regulation", "Regulation", "none controller built_in", "3.3", first=True),
        choice("stop_by", "Stopped by", "none brake short_switch", "3.22", first=True),
        number("max_v", "Highest voltage, unloaded", "V", "3.22"),
        yes_no("dump_load", "Has a diversion load", "3.22"),
        yes_no("blocking_diode", "Blocking diode", "3.3"),
    ),
    dc_ports(),
    source=EnergySource("wind", ("+",), "W"), role="source",
)

SHORE_INLET = Kind(
    "shore_inlet", "Shore inlet", "X", "sources",
    "Where the shore lead is plugged in. Shore power can kill.",
    (
        number("rated_a", "Rated current", "A", "9.1 9.10", first=True, typical=typical(16)),
        number("nominal_v", "Nominal voltage", "V", "9.1", first=True, typical=typical(230)),
        choice("poles", "Poles", "L_N_E L_L2_N_E", "9.2", first=True),
        reference("second_lead_of", "Second lead of", "9.19"),
    ),
    fixed_ports(Port("ac", ac_poles(""))),
    source=EnergySource("shore", ("L", "L2"), "S"), role="source",
)

GENERATING_SET = Kind(
    "generating_set", "Generating set", "G", "sources",
    "An engine with its own AC generator.",
    (
        number("rated_w", "Rated power", "W", "9.17", first=True),
        number("nominal_v", "Nominal voltage", "V", "9.17", first=True, typical=typical(230)),
        yes_no("breaker_built_in", "Breaker built in", "9.17", first=True),
        choice("neutral_bond", "Neutral bond", "at_frame none", "9.5", first=True),
        yes_no("auto_start", "Starts by itself", "2.18"),
        reference("driven_by", "Driven by engine", "2.18"),
    ),
    fixed_ports(Port("ac", ac_poles(""))),
    source=EnergySource("generator", ("L", "L2"), "S"), role="source",
)

STARTER = Kind(
    "starter", "Starter motor", "M", "sources",
    "Cranks the engine; its circuit is exempt from overcurrent protection.",
    (
        number("cranking_a", "Cranking current", "A", "2.5 4.4", first=True,
               typical=typical(220, "common practice: 150 to 300 A for 20 to 30 kW, no source")),
        reference("driven_by", "Of engine", "2.13", first=True),
        number("current_a", "Running current", "A", "4.4"),
        number("run_s", "Longest run", "s", "2.5"),
    ),
    dc_ports(port("signal", "signal")),
    lambda _p: (Link("+", "-", "load"),),
    lambda _p: (Handle("", ("off", "on"), "off", isolates=False),),
    role="load",
)

KINDS = (ENGINE, ALTERNATOR, SOLAR_ARRAY, WIND_GENERATOR, SHORE_INLET, GENERATING_SET, STARTER)
