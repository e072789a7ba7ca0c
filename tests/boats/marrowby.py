"""Marrowby, 11 m diesel cruiser of 12 V, wired by the book; negative earthed, returns drawn.

Figures by hand, class 5 copper at 20 C (95 mm2 0.21, 70 mm2 0.28, 50 mm2 0.39, 35 mm2 0.57,
10 mm2 1.95, 6 mm2 3.39, 4 mm2 5.09, 2.5 mm2 8.2 mOhm/m; 3/0 0.21, 10 AWG 3.3):

- House main with everything on: panel 24 A, inverter 600 W / (10.5 V x 0.9) = 63 A, windlass 70 A,
  157 A in all, under 80 % of the 300 A fuse (240 A), the switch (350 A) and 2/3 of the shunt.
  Drop bank to X1 and back: 0.9 m out, 1.0 m back x 0.21 + shunt 0.1 = 0.5 mOhm: 0.08 V, 0.7 %.
- Panel feeder 24 A x 4 m x 0.57 = 0.05 V, 0.5 %.
- Furthest critical loads: plotter 2 A x 8 m x 5.09 = 0.08 V (0.7 %), radio 5 A x 6 m x 3.3 = 0.10 V
  (0.8 %), light 0.5 A x 20 m x 8.2 = 0.08 V (0.7 %), pilot 3 A x 8 m x 3.39 = 0.08 V (0.7 %): all
  with the share of main and feeder 2.0 % at most, 2.4 % with hot copper.
- Bilge pump 5 A x 8 m x 3.39 = 0.14 V, 1.1 %. Windlass 70 A x 16 m x 0.39 = 0.44 V, 3.7 %.
- Starter 150 A: 1.8 m + 2.2 m at 0.21 = 0.84 mOhm, 0.13 V, 1.1 %; from the house bank over the
  emergency link 1.3 mOhm, 0.2 V.
- Relay: while cranking with it closed the house bank gives about half of 150 A over it, under the
  fuses' 125 A and the relay's 160 A.
- Fault at the house posts 12.8 V / 1.6 mOhm = 8 kA and from the start bank 2.5 kA: under 20 kA;
  behind the panel's feeder 12.8 V / (1.6 + 0.5 + 2.4) mOhm = 2.8 kA, under 5 kA.
- Shorts at the far end, hot: light 12.5 V / 0.2 Ohm = 62 A for 5 A; windlass 12.5 V / 10 mOhm =
  1.2 kA for 100 A; bilge pump 12.5 V / 35 mOhm = 350 A for 10 A.
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.yard import BREAKER, FUSE, Yard, way


def marrowby() -> Diagram:
    """Return the boat; the rule book has nothing at caution or above to say of it."""
    yard = Yard("us", returns="drawn", negative_datum="X2.s1")
    yard.boat(name="Marrowby", length_m=11, hull="grp", kept="afloat", shore_nominal_v=230)
    _house(yard)
    _always_on(yard)
    _panel(yard)
    _heavy(yard)
    _start(yard)
    _charging(yard)
    return yard.diagram()


def _house(yard: Yard) -> None:
    yard.battery("G1", chemistry="agm", capacity_ah=220, parallel_count=2, cranking_a=1200,
                 internal_resistance_ohm=0.0016, rest_v=12.8, max_charge_v=14.6, duty="house",
                 takeoff="diagonal", block_fuses="none", model_text="110 Ah block")
    yard.fuse("F1", 300, on_post=True, holder_rated_a=300, **FUSE)
    yard.switch("Q1", rated_continuous_a=350, rated_cranking_a=1000, rated_v=48, role="bank",
                normal="closed", poles="+", kills="house loads")
    yard.busbar("X1", pole="+", stud_count=8, rated_a=500, one_screw_each=True, covered=True)
    yard.busbar("X2", pole="-", stud_count=16, rated_a=500, one_screw_each=True)
    yard.part("B1", "shunt", rated_a=500, rated_mv=50, short_time_a=700, measures="G1", poles="-")
    yard.plus("W1", "G1.+", "F1.a", "95 mm2", 0.1)
    yard.plus("W2", "F1.b", "Q1.a", "95 mm2", 0.4)
    yard.plus("W3", "Q1.b", "X1.s1", "95 mm2", 0.4)
    yard.minus("N1", "G1.-", "B1.a", "95 mm2", 0.5)
    yard.minus("N2", "B1.b", "X2.s1", "95 mm2", 0.5)


def _always_on(yard: Yard) -> None:
    # The battery bus behind its own fuse: 1.5 m from the post, sheathed all the way.
    yard.fuse("F2", 250, holder_rated_a=250, **FUSE)
    yard.busbar("X3", pole="+", stud_count=9, rated_a=300, one_screw_each=True, covered=True)
    yard.plus("W21", "G1.+", "F2.a", "70 mm2", 1.5, sheath="whole")
    yard.plus("W22", "F2.b", "X3.s1", "70 mm2", 0.3)
    yard.load("E20", "bilge_pump", role="bilge_pump_automatic", current_a=5, stays_live=True,
              maker_fuse_max_a=10)
    yard.fused(20, "X3.s2", "E20.+", 10, "6 mm2", 4)
    yard.minus("N20", "E20.-", "X2.s2", "6 mm2", 4)
    yard.load("E21", "alarm", role="water_alarm", current_a=0.05, stays_live=True)
    yard.fused(21, "X3.s3", "E21.+", 3, "2.5 mm2", 3)
    yard.minus("N21", "E21.-", "X2.s3", "2.5 mm2", 3)
    yard.part("P9", "monitor", counts_current=True, needs_battery_side=True, current_a=0.01)
    yard.fused(22, "X3.s4", "P9.+", 3, "2.5 mm2", 3)
    yard.minus("N22", "P9.-", "B1.a", "2.5 mm2", 3)
    yard.wire("D1", "B1.sense", "P9.sense", "1.5 mm2", cores=("signal",), purpose="sense",
              length_m=3)


def _panel(yard: Yard) -> None:
    yard.panel("P1", way(5, "mast light"), way(5, "steaming light"), way(5, "deck light"),
               way(5, "plotter"), way(10, "radio"), way(10, "pilot"), way(10, "fridge"),
               way(5, "lamps forward"), way(5, "lamps aft"), way(10, "water pump"),
               way(10, "socket"), way(5, "spare", spare=True),
               bus_rated_a=150, negative_bar=True, enclosed=True)
    yard.fused(3, "X1.s2", "P1.in", 100, "35 mm2", 1.85)
    yard.minus("N3", "P1.-", "X2.s4", "35 mm2", 2)
    yard.load("E1", "navigation_light", current_a=0.5)
    yard.pair("C1", "P1.w1", "E1.+", "2.5 mm2", 10)
    yard.load("E2", "navigation_light", current_a=0.5)
    yard.pair("C2", "P1.w2", "E2.+", "2.5 mm2", 8)
    yard.load("E3", "lamp", current_a=0.5)
    yard.pair("C3", "P1.w3", "E3.+", "2.5 mm2", 6)
    yard.load("E4", "instrument", current_a=2)
    yard.pair("C4", "P1.w4", "E4.+", "4 mm2", 4)
    yard.load("E5", "radio", current_a=5)
    yard.pair("C5", "P1.w5", "E5.+", "10 awg", 3)
    yard.load("E6", "autopilot", current_a=3)
    yard.pair("C6", "P1.w6", "E6.+", "6 mm2", 4)
    yard.load("E7", "refrigerator", current_a=4)
    yard.pair("C7", "P1.w7", "E7.+", "10 awg", 4)
    yard.load("E8", "lamp", current_a=1.2)
    yard.pair("C8", "P1.w8", "E8.+", "2.5 mm2", 5)
    yard.load("E9", "lamp", current_a=1.3)
    yard.pair("C9", "P1.w9", "E9.+", "2.5 mm2", 3)
    yard.load("E10", "pump", current_a=4, intermittent=True)
    yard.pair("C10", "P1.w10", "E10.+", "6 mm2", 4)
    yard.load("E11", "socket", current_a=2)
    yard.pair("C11", "P1.w11", "E11.+", "4 mm2", 3)


def _heavy(yard: Yard) -> None:
    yard.part("F4", "breaker", rated_a=100, **{**BREAKER, "interrupt_a": 20000})
    yard.load("E12", "windlass", current_a=70, maker_fuse_min_a=80, maker_fuse_max_a=125,
              intermittent=True, run_s=120, thermal_cutout=True, own_switch=True)
    yard.plus("W41", "X1.s3", "F4.a", "50 mm2")
    yard.plus("W42", "F4.b", "E12.+", "50 mm2", 8)
    yard.minus("N4", "E12.-", "X2.s5", "50 mm2", 8)
    yard.part("T3", "inverter", rated_w=600, input_v=12, output_v=230, min_dc_v=10.5,
              efficiency=0.9, for_fixed_wiring=True, output_neutral="bonded",
              warning_text="Second source of 230 V")
    yard.fused(5, "X1.s4", "T3.+", 100, "35 mm2", 1.5)
    yard.minus("N5", "T3.-", "X2.s6", "35 mm2", 1.5)
    yard.part("F30", "residual_current_breaker", rated_a=10, rated_ac_v=230,
              poles_opened="L_and_N", residual_ma=30, interrupt_a=3000)
    yard.part("E13", "ac_socket", rated_w=500, double_insulated=True)
    yard.shore("A1", "T3.ac", "F30.a", 0.4)
    yard.shore("A2", "F30.b", "E13.ac", 3)


def _start(yard: Yard) -> None:
    yard.battery("G2", chemistry="flooded", capacity_ah=90, cranking_a=700, max_charge_v=14.8,
                 internal_resistance_ohm=0.005, rest_v=12.7, duty="start")
    yard.part("M2", "engine_block", fuel="diesel", type="inboard", stop="mechanical",
              runs_without_power=True)
    yard.part("M1", "starter", cranking_a=150, driven_by="M2")
    yard.switch("Q2", rated_continuous_a=300, rated_cranking_a=1000, rated_v=48, role="bank",
                normal="closed", poles="+", kills="engine")
    yard.switch("Q3", "emergency_link", rated_continuous_a=300, rated_cranking_a=1000,
                rated_v=48, role="emergency_link", normal="open", poles="+")
    yard.plus("B30", "G2.+", "Q2.a", "3/0 awg", 0.6, sheath="whole")
    yard.plus("B31", "Q2.b", "M1.+", "3/0 awg", 1.2, sheath="whole", engine_space_m=1)
    yard.minus("B40", "G2.-", "X2.s7", "3/0 awg", 1)
    yard.minus("B41", "M1.-", "X2.s8", "3/0 awg", 1.2, engine_space_m=1)
    yard.plus("B32", "Q1.b", "Q3.a", "3/0 awg", 0.5, sheath="whole")
    yard.plus("B33", "Q3.b", "Q2.b", "3/0 awg", 0.5, sheath="whole")
    yard.load("E30", "instrument", role="engine_control", current_a=2, own_switch=True)
    yard.fused(7, "Q2.b", "E30.+", 10, "6 mm2", 4, near={"sheath": "whole"}, engine_space_m=1)
    yard.minus("N7", "E30.-", "X2.s9", "6 mm2", 4, engine_space_m=1)


def _charging(yard: Yard) -> None:
    yard.part("G9", "shore_inlet", rated_a=16, nominal_v=230, poles="L_N_E")
    yard.part("F31", "residual_current_breaker", rated_a=16, rated_ac_v=230,
              poles_opened="L_and_N", residual_ma=30, interrupt_a=3000)
    yard.part("T1", "shore_charger", rated_a=40, output_v=12, absorption_v=14.4, float_v=13.5,
              sense="own_terminal", temperature_sensor=True,
              outputs=({"id": "1", "rated_a": 40, "isolated": True},
                       {"id": "2", "rated_a": 20, "isolated": True}))
    yard.shore("A3", "G9.ac", "F31.a", 0.4)
    yard.shore("A4", "F31.b", "T1.ac")
    yard.minus("N99", "X2.s14", "M2.n1", "3/0 awg", 1.2, engine_space_m=1)
    yard.earth("E98", "F31.b", "M2.n2")
    yard.earth("E99", "F30.b", "M2.n3")
    yard.fused(8, "X3.s5", "T1.1+", 50, "10 mm2", 1.5)
    yard.fused(9, "G2.+", "T1.2+", 50, "10 mm2", 1.5)
    yard.minus("N8", "T1.-", "X2.s10", "16 mm2", 1.5)
    yard.part("G5", "alternator", rated_a=90, nominal_v=12, driven_by="M2", regulation="internal",
              return_by="isolated", set_v=14.4)
    yard.fused(10, "X3.s6", "G5.+", 150, "50 mm2", 2.5, engine_space_m=1, sheath="whole")
    yard.minus("N10", "G5.-", "X2.s11", "50 mm2", 2, engine_space_m=1)
    yard.part("K1", "voltage_sensing_relay", rated_a=160, close_above_v=13.3, open_below_v=12.8,
              close_delay_s=30, senses="both")
    yard.fused(11, "X3.s7", "K1.a", 125, "35 mm2", 2)
    yard.fuse("F12", 125, holder_rated_a=125, **FUSE)
    yard.plus("W121", "G2.+", "F12.a", "35 mm2")
    yard.plus("W122", "F12.b", "K1.b", "35 mm2", 2)
    yard.minus("N11", "K1.-", "X2.s12", "2.5 mm2", 1)
    yard.part("G6", "solar_array", panel_w=100, series_count=2, parallel_count=1,
              panel_voc_v=22, panel_vmp_v=18, panel_isc_a=6, max_series_fuse_a=15)
    yard.switch("Q6", "disconnector", rated_continuous_a=32, rated_v=100, poles="+",
                role="source_stop", normal="closed")
    yard.part("T2", "solar_controller", type="mppt", rated_output_a=20, max_input_v=100,
              max_input_a=15, output_v=12, absorption_v=14.4, float_v=13.5, sense="own_terminal")
    yard.plus("W61", "G6.+", "Q6.a", "4 mm2", 4)
    yard.plus("W62", "Q6.b", "T2.pv+", "4 mm2", 1)
    yard.minus("N61", "G6.-", "T2.pv-", "4 mm2", 5)
    yard.fused(13, "X3.s8", "T2.out+", 30, "10 awg", 1)
    yard.minus("N13", "T2.out-", "X2.s13", "10 awg", 1)
