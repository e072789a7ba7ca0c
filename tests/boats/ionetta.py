"""Ionetta, 12 V cruiser changed over to lithium; negative earthed, returns not drawn.

Planted faults:

1. F8 and F9, blade fuses that break 1 kA, on the lithium bank's post: 13.3 V / (0.9 + 2.5) mOhm =
   3.9 kA behind 0.15 m out and back of 2.5 mm2.
2. Three lithium batteries in parallel behind the one main fuse F1, none of their own.
3. W11, the charger's lead, 3 m, reaches the post of G1 without a fuse there.
4. Inverter 2400 W: 2400 / (10.5 V x 0.9) = 254 A; its fuse F5 is 225 A, its cable 50 mm2 (245 A by
   one table). At 12 V it draws 222 A, under both; drop 222 A x 1.4 mOhm =
   0.3 V, 2.6 %.
5. F6, 70 A, on the start bank's thin tie of 4 mm2 (45 A: 156 %). It still trips: 4.3 m x 5.09 x 2 =
   44 mOhm, 53 mOhm hot: 12.8 V / 55 mOhm = 230 A for 3 x 70 A. The tie carries (13.4 - 12.7) V /
   50 mOhm = 14 A; at 14.4 V 34 A.
Main 120 mm2 (450 A, 445 A) behind 400 A. Fault at the posts 13.3 V / 0.9 mOhm = 15 kA, under 20 kA.
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.yard import FUSE, Yard, way

BLADE = {"class": "blade", "rated_dc_v": 32, "interrupt_a": 1000, "holder_rated_a": 30}


def ionetta() -> Diagram:
    """Return the lithium conversion."""
    yard = Yard("us")
    yard.boat(name="Ionetta", length_m=12, hull="grp", kept="afloat", shore_nominal_v=230,
              aboard=("jump_pack",))
    _house(yard)
    _loads(yard)
    _start(yard)
    return yard.diagram()


def _house(yard: Yard) -> None:
    yard.battery("G1", parallel_count=3, chemistry="lfp", capacity_ah=300, block_fuses="none",
                 internal_resistance_ohm=0.0009, rest_v=13.3, max_charge_v=14.4, float_v=13.5,
                 max_charge_a=150, max_discharge_a=400, duty="house", management="external",
                 management_unit="A1", takeoff="busbars")
    yard.part("A1", "battery_management_unit", alarm="screen_with_sound", charge_limit_a=150,
              discharge_limit_a=400, drives=({"id": "K2", "role": "both"},))
    yard.fuse("F1", 400, on_post=True, holder_rated_a=400, **FUSE)
    yard.part("K2", "contactor", poles="+", normal="closed", rated_continuous_a=400, rated_v=48,
              remote="without", driven_by="A1", coil_a=0.3)
    yard.busbar("X0", pole="+", stud_count=6, rated_a=500, one_screw_each=True)
    yard.switch("Q1", rated_continuous_a=400, rated_cranking_a=1000, rated_v=48, role="bank",
                normal="closed", poles="+", kills="house loads")
    yard.busbar("X1", pole="+", stud_count=6, rated_a=500, one_screw_each=True)
    yard.plus("W1", "G1.+", "F1.a", "120 mm2", 0.1)
    yard.plus("W2", "F1.b", "K2.a", "120 mm2", 0.3)
    yard.plus("W3", "K2.b", "X0.s1", "120 mm2", 0.3)
    yard.plus("W4", "X0.s2", "Q1.a", "120 mm2", 0.3)
    yard.plus("W5", "Q1.b", "X1.s1", "120 mm2", 0.3)
    yard.fuse("F9", 3, **BLADE)
    yard.plus("W91", "G1.+", "F9.a", "2.5 mm2")
    yard.plus("W92", "F9.b", "A1.supply", "2.5 mm2", 1)
    yard.wire("D1", "A1.trip", "K2.coil+", "1.5 mm2", cores=("signal",), purpose="control",
              length_m=1, insulation_c=105, engine_space_m=0)
    yard.fuse("F8", 10, **BLADE)
    yard.load("E20", "bilge_pump", role="bilge_pump_automatic", current_a=3, stays_live=True,
              maker_fuse_max_a=10)
    yard.plus("W81", "G1.+", "F8.a", "2.5 mm2")
    yard.plus("W82", "F8.b", "E20.+", "2.5 mm2", 4)


def _loads(yard: Yard) -> None:
    yard.panel("P1", way(5, "lamps"), way(10, "fridge"), way(5, "plotter"), bus_rated_a=100,
               negative_bar=True, enclosed=True)
    yard.fused(3, "X1.s2", "P1.in", 60, "35 mm2", 2)
    yard.load("E1", "lamp", current_a=2)
    yard.plus("C1", "P1.w1", "E1.+", "2.5 mm2", 4)
    yard.load("E2", "refrigerator", current_a=4)
    yard.plus("C2", "P1.w2", "E2.+", "6 mm2", 4)
    yard.load("E3", "instrument", current_a=1)
    yard.plus("C3", "P1.w3", "E3.+", "4 mm2", 3)
    yard.part("T3", "inverter", rated_w=2400, input_v=12, output_v=230, min_dc_v=10.5,
              efficiency=0.9, for_fixed_wiring=True, output_neutral="bonded", soft_start=True,
              warning_text="Second source of 230 V")
    yard.fused(5, "X1.s3", "T3.+", 225, "50 mm2", 1)
    yard.part("E13", "ac_socket", rated_w=1000, double_insulated=True)
    yard.shore("A2", "T3.ac", "E13.ac", 3)


def _start(yard: Yard) -> None:
    yard.battery("G2", chemistry="flooded", capacity_ah=90, cranking_a=700, max_charge_v=14.8,
                 internal_resistance_ohm=0.005, rest_v=12.7, duty="start")
    yard.part("M2", "engine_block", fuel="diesel", type="inboard", stop="mechanical",
              runs_without_power=True)
    yard.part("M1", "starter", cranking_a=150, driven_by="M2")
    yard.switch("Q2", rated_continuous_a=300, rated_cranking_a=1000, rated_v=48, role="bank",
                normal="closed", poles="+", kills="engine")
    yard.plus("B30", "G2.+", "Q2.a", "95 mm2", 0.6, sheath="whole")
    yard.plus("B31", "Q2.b", "M1.+", "95 mm2", 1.2, sheath="whole", engine_space_m=1)
    yard.part("G5", "alternator", rated_a=70, nominal_v=12, driven_by="M2", regulation="internal",
              set_v=14.2)
    yard.fused(10, "G2.+", "G5.+", 100, "35 mm2", 2.5, engine_space_m=1, sheath="whole")
    yard.part("K1", "voltage_sensing_relay", rated_a=100, close_above_v=13.6, open_below_v=13.4,
              close_delay_s=30, senses="b", run_signal_only=True)
    yard.fused(6, "X0.s3", "K1.a", 70, "4 mm2", 2)
    yard.fuse("F7", 40, holder_rated_a=40, **FUSE)
    yard.plus("W71", "G2.+", "F7.a", "4 mm2")
    yard.plus("W72", "F7.b", "K1.b", "4 mm2", 2)
    yard.part("G9", "shore_inlet", rated_a=16, nominal_v=230, poles="L_N_E")
    yard.part("T1", "shore_charger", rated_a=60, output_v=12, output_count=1,
              absorption_v=14.2, float_v=13.5)
    yard.shore("WA1", "G9.ac", "T1.ac")
    yard.plus("W11", "G1.+", "T1.1+", "16 mm2", 3)
