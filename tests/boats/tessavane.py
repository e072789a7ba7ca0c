"""Tessavane, 13 m steel cutter of 24 V, insulated two-wire system, wired by the book.

Figures by hand (class 5 copper at 20 C, mOhm/m: 95 mm2 0.21, 70 mm2 0.28, 35 mm2 0.57, 10 mm2
1.95, 6 mm2 3.39, 4 mm2 5.09, 2.5 mm2 8.2):

- House main, all on: thruster 150 A, panel 13 A, converter 8 A at 12 V = 5 A: 168 A, under 80 %
  of the 300 A fuse. Bank to bus and back 2 x 1.0 m x 0.21 = 0.4 mOhm: 0.07 V, 0.3 %.
- Panel feeder 13 A x 4 m x 1.95 = 0.10 V, 0.4 %. Light 0.5 A x 28 m x 8.2 = 0.11 V, 0.5 %; radio
  3 A x 8 m x 5.09 = 0.12 V, 0.5 %; pilot 3 A x 12 m x 3.39 = 0.12 V, 0.5 %. Pump 3 A x
  10 m x 5.09 = 0.15 V, 0.6 %.
- 12 V side: 8 A x 4 m x 3.39 = 0.11 V (0.9 %); plotter 3 A x 6 m x 5.09 = 0.09 V (0.8 %).
- Thruster 150 A x 12 m x 0.21 = 0.38 V, 1.6 %. Starter 160 A x 3.6 m x 0.21 = 0.12 V, 0.5 %.
- Thin relay lead: 14 m of 10 mm2 out and back = 55 mOhm. Alternator 110 A lifts the house bank to
  26.6 V + 110 A x 4 mOhm = 27.0 V; start bank 25.4 V behind 10 mOhm: 1.6 V / 65 mOhm = 25 A,
  under the relay's 80 A, the fuses' 60 A and 80 % of them, though the alternator's 110 A is over.
  While cranking with the relay closed 40 A. At its far end a short gives 25 V / 76 mOhm = 330 A
  for 60 A fuses, 180 A being wanted.
- Fault at the posts 26.6 V / 4 mOhm = 6.7 kA, under 20 kA; panel ways 26.6 V / 12 mOhm = 2.2 kA,
  under 5 kA.
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.yard import FUSE, Yard, way

BOTH = {"poles": "both"}


def tessavane() -> Diagram:
    """Return the boat; the rule book has nothing at caution or above to say of it."""
    yard = Yard("iso", 24, returns="drawn", earthing="insulated")
    yard.system("S2", 12, returns="drawn", earthing="insulated")
    yard.boat(name="Tessavane", length_m=13, hull="steel", kept="afloat", shore_nominal_v=230,
              shore_polarity_assured=False)
    _house(yard)
    _battery_bus(yard)
    _panel(yard)
    _other_loads(yard)
    _start(yard)
    _charging(yard)
    return yard.diagram()


def _house(yard: Yard) -> None:
    yard.battery("G1", series_count=2, parallel_count=1, chemistry="lfp", capacity_ah=200,
                 internal_resistance_ohm=0.004, rest_v=26.6, max_charge_v=28.8, float_v=27,
                 max_charge_a=180, max_discharge_a=250, duty="house", management="external",
                 management_unit="A1", block_fuses="each", max_in_series=2)
    yard.part("A1", "battery_management_unit", alarm="screen_with_sound", charge_limit_a=180,
              discharge_limit_a=250, reports_state_of_charge=True,
              drives=({"id": "K1", "role": "both"},))
    yard.part("K1", "contactor", poles="-", normal="closed", rated_continuous_a=350,
              rated_v=60, remote="without", driven_by="A1", coil_a=0.2, latching=False)
    yard.fuse("F1", 300, on_post=True, holder_rated_a=300, **BOTH, **FUSE)
    yard.switch("Q1", rated_continuous_a=350, rated_cranking_a=1000, rated_v=60, role="bank",
                normal="closed", kills="house loads", **BOTH)
    yard.busbar("X1", pole="+", stud_count=8, rated_a=500, one_screw_each=True, covered=True)
    yard.busbar("X2", pole="-", stud_count=8, rated_a=500, one_screw_each=True, covered=True)
    yard.plus("W1", "G1.+", "F1.a", "95 mm2", 0.1)
    yard.minus("N1", "G1.-", "K1.a", "95 mm2", 0.07, sheath="none")
    yard.minus("N2", "K1.b", "F1.a", "95 mm2", 0.08, sheath="none")
    yard.pair("W2", "F1.b", "Q1.a", "95 mm2", 0.4, sheath="none")
    yard.plus("W3", "Q1.b", "X1.s1", "95 mm2", 0.4)
    yard.minus("N3", "Q1.b", "X2.s1", "95 mm2", 0.4, sheath="none")
    yard.fuse("F4", 3, holder_rated_a=3, **BOTH, **FUSE)
    yard.plus("W41", "G1.+", "F4.a", "2.5 mm2")
    yard.minus("N41", "G1.-", "F4.a", "2.5 mm2", 0.15)
    yard.plus("W42", "F4.b", "A1.supply", "2.5 mm2", 1)
    yard.minus("N42", "F4.b", "A1.-", "2.5 mm2", 1)
    yard.wire("D1", "A1.trip", "K1.coil+", "1.5 mm2", cores=("signal",), purpose="control",
              length_m=1, insulation_c=105, engine_space_m=0)
    yard.wire("D2", "K1.coil-", "A1.-", "1.5 mm2", cores=("-",), purpose="control",
              length_m=1, insulation_c=105, engine_space_m=0, colour="yellow")


def _battery_bus(yard: Yard) -> None:
    # Charging and what is always on: behind the management unit's contactor, before the switch.
    yard.fuse("F2", 250, holder_rated_a=250, **BOTH, **FUSE)
    yard.busbar("X3", pole="+", stud_count=8, rated_a=300, one_screw_each=True, covered=True)
    yard.busbar("X4", pole="-", stud_count=8, rated_a=300, one_screw_each=True, covered=True)
    yard.plus("W21", "G1.+", "F2.a", "70 mm2", 0.1)
    yard.minus("N21", "K1.b", "F2.a", "70 mm2", 0.08)
    yard.plus("W22", "F2.b", "X3.s1", "70 mm2", 0.4)
    yard.minus("N22", "F2.b", "X4.s1", "70 mm2", 0.4)
    yard.load("E20", "bilge_pump", role="bilge_pump_automatic", current_a=3, stays_live=True,
              maker_fuse_max_a=10)
    yard.fused_both(20, "X3.s2", "X4.s2", "E20.+", 10, "4 mm2", 5)
    yard.load("E21", "alarm", role="water_alarm", current_a=0.05, stays_live=True)
    yard.fused_both(21, "X3.s3", "X4.s3", "E21.+", 3, "2.5 mm2", 4)


def _panel(yard: Yard) -> None:
    yard.panel("P1", way(5, "masthead light", **BOTH), way(5, "side lights", **BOTH),
               way(10, "radio", **BOTH), way(10, "pilot", **BOTH), way(10, "fridge", **BOTH),
               way(5, "lamps", **BOTH), way(10, "water pump", **BOTH),
               way(5, "spare", spare=True, **BOTH),
               bus_rated_a=100, negative_bar=True, enclosed=True)
    yard.fused_both(3, "X1.s2", "X2.s2", "P1.in", 60, "10 mm2", 2)
    yard.load("E1", "navigation_light", current_a=0.5)
    yard.pair("C1", "P1.w1", "E1.+", "2.5 mm2", 14)
    yard.load("E2", "navigation_light", current_a=0.5)
    yard.pair("C2", "P1.w2", "E2.+", "2.5 mm2", 8)
    yard.load("E3", "radio", current_a=3)
    yard.pair("C3", "P1.w3", "E3.+", "4 mm2", 4)
    yard.load("E4", "autopilot", current_a=3)
    yard.pair("C4", "P1.w4", "E4.+", "10 awg", 6)
    yard.load("E5", "refrigerator", current_a=2.5)
    yard.pair("C5", "P1.w5", "E5.+", "4 mm2", 4)
    yard.load("E6", "lamp", current_a=1)
    yard.pair("C6", "P1.w6", "E6.+", "2.5 mm2", 5)
    yard.load("E7", "pump", current_a=2.5, intermittent=True)
    yard.pair("C7", "P1.w7", "E7.+", "4 mm2", 5)


def _other_loads(yard: Yard) -> None:
    yard.load("E11", "thruster", current_a=150, maker_fuse_min_a=160, maker_fuse_max_a=250,
              intermittent=True, run_s=120, thermal_cutout=True, own_switch=True)
    yard.fused_both(11, "X1.s3", "X2.s3", "E11.+", 200, "95 mm2", 6)
    yard.part("T3", "dc_dc_converter", input_v=24, output_v=12, rated_output_a=20, isolated=True,
              efficiency=0.9, input_min_v=18, input_max_v=32)
    yard.fused_both(12, "X1.s4", "X2.s4", "T3.in+", 25, "6 mm2", 2)
    yard.fuse("F13", 30, holder_rated_a=30, **BOTH, **FUSE)
    yard.panel("P2", way(5, "plotter", **BOTH), way(5, "log", **BOTH), way(10, "socket", **BOTH),
               bus_rated_a=60, negative_bar=True, enclosed=True)
    yard.pair("W131", "T3.out+", "F13.a", "6 mm2", 0.15)
    yard.pair("W132", "F13.b", "P2.in", "6 mm2", 1.8)
    yard.load("E31", "instrument", current_a=3)
    yard.pair("C31", "P2.w1", "E31.+", "4 mm2", 3)
    yard.load("E32", "instrument", current_a=1)
    yard.pair("C32", "P2.w2", "E32.+", "2.5 mm2", 3)
    yard.load("E33", "socket", current_a=4)
    yard.pair("C33", "P2.w3", "E33.+", "4 mm2", 2)


def _start(yard: Yard) -> None:
    for block in ("G2", "G3"):
        yard.battery(block, chemistry="flooded", capacity_ah=90, cranking_a=700,
                     internal_resistance_ohm=0.005, rest_v=12.7, max_charge_v=14.8, duty="start",
                     model_text="90 Ah start")
    yard.part("M2", "engine_block", fuel="diesel", type="inboard", stop="mechanical",
              runs_without_power=True)
    yard.part("M1", "starter", cranking_a=160, driven_by="M2")
    yard.switch("Q2", rated_continuous_a=300, rated_cranking_a=1000, rated_v=60, role="bank",
                normal="closed", kills="engine", **BOTH)
    yard.switch("Q3", "emergency_link", rated_continuous_a=300, rated_cranking_a=1000,
                rated_v=60, role="emergency_link", normal="open", **BOTH)
    yard.plus("B29", "G2.+", "G3.-", "95 mm2", 0.3, purpose="bank_link", sheath="whole")
    yard.plus("B30", "G3.+", "Q2.a", "95 mm2", 0.6, sheath="whole")
    yard.minus("B40", "G2.-", "Q2.a", "95 mm2", 0.6, sheath="whole")
    yard.plus("B31", "Q2.b", "M1.+", "95 mm2", 1.2, sheath="whole", engine_space_m=1)
    yard.minus("B41", "Q2.b", "M1.-", "95 mm2", 1.2, sheath="whole", engine_space_m=1)
    yard.pair("B32", "Q1.b", "Q3.a", "95 mm2", 0.5)
    yard.pair("B33", "Q3.b", "Q2.b", "95 mm2", 0.5)
    yard.load("E30", "instrument", role="engine_control", current_a=1, own_switch=True)
    yard.fused_both(14, "Q2.b", "Q2.b", "E30.+", 10, "4 mm2", 4,
                    near={"sheath": "whole"}, engine_space_m=1)


def _charging(yard: Yard) -> None:
    yard.part("G9", "shore_inlet", rated_a=16, nominal_v=230, poles="L_N_E")
    yard.part("F30", "residual_current_breaker", rated_a=16, rated_ac_v=230,
              poles_opened="L_and_N", residual_ma=30, interrupt_a=3000)
    yard.part("T1", "shore_charger", rated_a=40, output_v=24, absorption_v=28.4, float_v=27,
              outputs=({"id": "1", "rated_a": 40, "isolated": True},))
    yard.shore("A3", "G9.ac", "F30.a", 0.4)
    yard.shore("A4", "F30.b", "T1.ac")
    yard.earth("E99", "F30.b", "M2.n1")
    yard.fused_both(6, "X3.s4", "X4.s4", "T1.1+", 60, "10 mm2", 1.5)
    yard.part("G5", "alternator", rated_a=110, nominal_v=24, driven_by="M2",
              regulation="internal", set_v=28.4, surge_protected=True)
    yard.fused_both(5, "X3.s5", "X4.s5", "G5.+", 150, "50 mm2", 2.5, engine_space_m=1)
    yard.part("K2", "voltage_sensing_relay", rated_a=80, close_above_v=26.8, open_below_v=26.4,
              close_delay_s=30, senses="a", run_signal_only=True)
    for n in (7, 8):
        yard.fuse(f"F{n}", 60, holder_rated_a=60, **BOTH, **FUSE)
    yard.plus("W71", "X3.s6", "F7.a", "10 mm2")
    yard.minus("N71", "X4.s6", "F7.a", "10 mm2", 0.15)
    yard.plus("W72", "F7.b", "K2.a", "10 mm2", 7)
    yard.plus("W82", "K2.b", "F8.b", "10 mm2", 7)
    yard.minus("N72", "F7.b", "F8.b", "10 mm2", 14)
    yard.plus("W81", "G3.+", "F8.a", "10 mm2")
    yard.minus("N81", "G2.-", "F8.a", "10 mm2", 0.15)
    # The relay's own electronics return to the same negative, behind the same fuse.
    yard.minus("N73", "K2.-", "F7.b", "10 mm2", 7)
    yard.part("G6", "solar_array", panel_w=150, series_count=2, parallel_count=1,
              panel_voc_v=24, panel_vmp_v=20, panel_isc_a=8, max_series_fuse_a=15)
    yard.switch("Q6", "disconnector", rated_continuous_a=32, rated_v=100, role="source_stop",
                normal="closed", **BOTH)
    yard.part("T2", "solar_controller", type="mppt", rated_output_a=20, max_input_v=100,
              max_input_a=15, output_v=24, absorption_v=28.4, float_v=27)
    yard.pair("C61", "G6.+", "Q6.a", "4 mm2", 4)
    yard.pair("C62", "Q6.b", "T2.pv+", "4 mm2", 1)
    yard.fused_both(9, "X3.s7", "X4.s7", "T2.out+", 30, "6 mm2", 1)
