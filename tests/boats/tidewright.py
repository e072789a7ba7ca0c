"""Tidewright, 13 m cruiser of 12 V by the book: lithium aft, solar, shore, a generating set.

Every trap looks like a fault and is none; `traps.toml` breaks each with one edit.
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.fittings import (
    SEEN,
    alternator,
    battery_bus,
    bilge,
    branch,
    charger,
    house,
    starting,
)
from tests.boats.yard import BREAKER, FUSE, Yard


def tidewright() -> Diagram:
    """Return the boat; the rule book has nothing at caution or above to say of it."""
    yard = Yard("us")
    yard.boat(name="Tidewright", length_m=13, hull="grp", kept="afloat", shore_nominal_v=230,
              shore_polarity_assured=False, lowest_temperature_c=2, weeks_idle=2)
    yard.place("galley", "galley", "galley")
    house(yard, parallel_count=2)
    battery_bus(yard)
    bilge(yard, start="X3.s2")
    yard.load("E21", "alarm", role="water_alarm", current_a=0.05, stays_live=True,
              own_battery=False)
    yard.fused(21, "X3.s3", "E21.+", 3, "2.5 mm2", 3)
    starting(yard)
    alternator(yard, "G5", 5, "G2.+", "M2")
    _loads(yard)
    _charging(yard)
    _lithium(yard)
    _alternating(yard)
    return yard.diagram()


def _loads(yard: Yard) -> None:
    branch(yard, 31, "lamp", 3, rated_a=10)
    branch(yard, 32, "refrigerator", 4)
    branch(yard, 33, "radio", 5, size="10 mm2", rated_a=10)
    branch(yard, 34, "instrument", 2, rated_a=5)
    branch(yard, 35, "navigation_light", 1, rated_a=5)
    branch(yard, 36, "autopilot", 4, rated_a=10)
    branch(yard, 37, "pump", 5, rated_a=10, intermittent=True)
    yard.part("F38", "breaker", rated_a=100, within_reach=True,
              **{**BREAKER, "interrupt_a": 20000})
    yard.load("E38", "windlass", current_a=70, maker_fuse_min_a=80, maker_fuse_max_a=125,
              intermittent=True, run_s=120, thermal_cutout=True, own_switch=True,
              stop_within_reach="F38")
    yard.plus("W381", "X1.s10", "F38.a", "50 mm2")
    yard.plus("W382", "F38.b", "E38.+", "50 mm2", 6)
    yard.switch("Q7", "emergency_link", rated_continuous_a=300, rated_cranking_a=1000, rated_v=60,
                role="emergency_link", normal="open", poles="+")
    yard.plus("B70", "Q1.b", "Q7.a", "95 mm2", 0.5, sheath="whole")
    yard.plus("B71", "Q7.b", "Q2.b", "95 mm2", 0.5, sheath="whole")
    yard.part("X7", "fuel_tank", fuel="diesel", metal=True)


def _charging(yard: Yard) -> None:
    yard.part("G6", "solar_array", panel_w=100, series_count=2, parallel_count=1, panel_voc_v=22,
              panel_vmp_v=18, panel_isc_a=6, max_series_fuse_a=15)
    yard.switch("Q6", "disconnector", rated_continuous_a=32, rated_v=100, poles="+",
                role="source_stop", normal="closed")
    yard.part("T2", "solar_controller", type="mppt", rated_output_a=20, max_input_v=100,
              max_input_a=15, output_v=12, absorption_v=14.4, float_v=13.3, sense="own_terminal")
    yard.plus("W61", "G6.+", "Q6.a", "4 mm2", 4)
    yard.plus("W62", "Q6.b", "T2.pv+", "4 mm2", 1)
    yard.fused(13, "X3.s4", "T2.out+", 30, "10 mm2", 1.5)
    yard.part("T4", "dc_dc_charger", input_v=12, output_v=12, rated_output_a=30, isolated=False,
              run_signal="none", start_above_v=13.3, stop_below_v=12.7, absorption_v=14.4,
              float_v=13.3, efficiency=0.9, sense="own_terminal")
    yard.fused(14, "G2.+", "T4.in+", 60, "16 mm2", 2)
    yard.fused(15, "X3.s5", "T4.out+", 60, "16 mm2", 2)


def _lithium(yard: Yard) -> None:
    # A pack aft for the cooler: charged by a converter from the house, management inside.
    yard.battery("G4", chemistry="lfp", capacity_ah=100, max_charge_v=14.4, rest_v=13.3,
                 internal_resistance_ohm=0.003, max_charge_a=50, max_discharge_a=100,
                 duty="house", management="internal", alarm="sounder",
                 reports_state_of_charge=True, cold_charge_cutoff=True, heated=False, **SEEN)
    yard.fuse("F4", 60, on_post=True, holder_rated_a=60, **FUSE)
    yard.switch("Q4", rated_continuous_a=150, rated_v=60, role="bank", normal="closed", poles="+",
                kills="cooler aft", within_reach=True)
    yard.plus("W41", "G4.+", "F4.a", "16 mm2", 0.1)
    yard.plus("W42", "F4.b", "Q4.a", "16 mm2", 0.4)
    yard.load("E41", "refrigerator", current_a=4)
    yard.plus("W43", "Q4.b", "E41.+", "16 mm2", 2)
    yard.part("T5", "dc_dc_charger", input_v=12, output_v=12, rated_output_a=20, isolated=False,
              run_signal="wired", absorption_v=14.2, float_v=13.5, efficiency=0.9,
              sense="own_terminal")
    yard.fused(16, "X3.s6", "T5.in+", 40, "10 mm2", 2)
    yard.fused(17, "G4.+", "T5.out+", 40, "10 mm2", 2)


def _alternating(yard: Yard) -> None:
    charger(yard, to="X3.s7")
    yard.part("G9", "shore_inlet", rated_a=16, nominal_v=230, poles="L_N_E")
    yard.part("F77", "residual_current_breaker", rated_a=16, rated_ac_v=230,
              poles_opened="L_and_N", residual_ma=30, interrupt_a=3000)
    yard.shore("A1", "G9.ac", "F77.a", 0.4)
    yard.part("R9", "galvanic_isolator", rated_a=16, fail_safe=True)
    yard.earth("EA1", "F77.b", "R9.a")
    yard.earth("EA2", "R9.b", "M2.n1")
    yard.part("G8", "generating_set", rated_w=3500, breaker_built_in=True, neutral_bond="at_frame")
    yard.part("Q8", "ac_transfer_switch", type="rotary", break_before_make=True, rated_a=16,
              switches_neutral=True, position_names="1: generating set; 0: off; 2: shore")
    yard.wire("A2", "F77.b", "Q8.2", "2.5 mm2", cores=("L", "N"), length_m=1, sheath="whole",
              insulation_c=90, construction="stranded", cable_type="marked", engine_space_m=0)
    yard.wire("A3", "G8.ac", "Q8.1", "2.5 mm2", cores=("L", "N"), length_m=1, sheath="whole",
              insulation_c=90, construction="stranded", cable_type="marked", engine_space_m=0)
    yard.earth("EA3", "G8.ac", "M2.n2")
    yard.earth("EA4", "Q8.c", "M2.n3")
    yard.part("P8", "ac_panel", dc_parts_in_box="behind_barrier",
              warning_text="Second source: generating set", ways=(
                  {"id": "w1", "device": "breaker", "rated_a": 10, "poles": "both",
                   "label": "socket galley", "residual_ma": 0},
                  {"id": "w2", "device": "breaker", "rated_a": 10, "poles": "both",
                   "label": "heater", "residual_ma": 0},
                  {"id": "w3", "device": "breaker", "rated_a": 10, "poles": "both",
                   "label": "shore charger", "residual_ma": 0}))
    yard.shore("A4", "Q8.c", "P8.in", 1)
    yard.part("E61", "ac_socket", double_insulated=False, ground_fault_ma=5, place="galley")
    yard.part("E62", "ac_load", rated_w=1200, heater=True, double_insulated=False, name="heater")
    yard.shore("A5", "P8.w1", "E61.ac", 3)
    yard.shore("A6", "P8.w2", "E62.ac", 3)
    yard.shore("A7", "P8.w3", "T1.ac", 2)
