"""Brantelle, 15 m motor yacht of 24 V with 12 V electronics; negative earthed, returns drawn.

1. Link Q3 joins the 24 V bank G1 and the 12 V radio bank G4.
2. Converter T3, not isolated, charges the 12 V electronics bank G3, whose negative bus X4 is joined
   to nothing else.
3. Windlass breaker F5, 200 A, where the maker's largest is 100 A; its positive, 35 mm2, carries
   210 A. Far short: 25.6 V / (18 + 4) mOhm = 1.1 kA, hot, for 3 x 200 A.
4. Panel P1, whose own bar is rated 50 A, behind feeder fuse F3 of 80 A on 35 mm2.
5. N5, the windlass's negative, 10 mm2 (90 A and 80 A) for a device of 200 A, and for one of
   100 A too; 60 A flow. Drop 60 A x 6 m x (0.57 + 1.95) = 0.91 V, 3.8 %.
6. N108: the fridge's negative goes to the battery's post, before shunt B1.
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.yard import BREAKER, FUSE, Yard, way


def brantelle() -> Diagram:
    """Return the motor yacht."""
    yard = Yard("us", 24, returns="drawn", negative_datum="X2.s1")
    yard.system("S2", 12, returns="drawn", negative_datum="X4.s1")
    yard.boat(name="Brantelle", length_m=15, hull="grp", kept="afloat", shore_nominal_v=230)
    _house(yard)
    _electronics(yard)
    _radio_bank(yard)
    _start(yard)
    return yard.diagram()


def _bank(yard: Yard, item: str, blocks: int, duty: str) -> None:
    yard.battery(item, series_count=blocks, parallel_count=1, chemistry="agm", capacity_ah=200,
                 cranking_a=1000, internal_resistance_ohm=0.002 * blocks, rest_v=12.8 * blocks,
                 max_charge_v=14.6 * blocks, duty=duty)


def _main_switch(yard: Yard, item: str) -> None:
    yard.switch(item, rated_continuous_a=350, rated_cranking_a=1000, rated_v=48, role="bank",
                normal="closed", poles="+")


def _house(yard: Yard) -> None:
    _bank(yard, "G1", 2, "house")
    yard.fuse("F1", 300, on_post=True, holder_rated_a=300, **FUSE)
    _main_switch(yard, "Q1")
    yard.busbar("X1", pole="+", stud_count=8, rated_a=500, one_screw_each=True)
    yard.busbar("X2", pole="-", stud_count=16, rated_a=500, one_screw_each=True)
    yard.part("B1", "shunt", rated_a=500, rated_mv=50, short_time_a=700, measures="G1", poles="-")
    yard.plus("W1", "G1.+", "F1.a", "95 mm2", 0.1)
    yard.plus("W2", "F1.b", "Q1.a", "95 mm2", 0.4)
    yard.plus("W3", "Q1.b", "X1.s1", "95 mm2", 0.4)
    yard.minus("N1", "G1.-", "B1.a", "95 mm2", 0.5)
    yard.minus("N2", "B1.b", "X2.s1", "95 mm2", 0.5)
    yard.panel("P1", way(5, "navigation lights"), way(5, "lamps"), way(10, "fridge"),
               way(10, "pump"), bus_rated_a=50, negative_bar=True, enclosed=True)
    yard.fused(3, "X1.s2", "P1.in", 80, "35 mm2", 2)
    yard.minus("N3", "P1.-", "X2.s2", "35 mm2", 2)
    yard.load("E1", "navigation_light", current_a=0.5)
    yard.pair("C1", "P1.w1", "E1.+", "2.5 mm2", 10)
    yard.load("E2", "lamp", current_a=1)
    yard.pair("C2", "P1.w2", "E2.+", "2.5 mm2", 5)
    yard.load("E3", "refrigerator", current_a=3)
    yard.plus("C3", "P1.w3", "E3.+", "4 mm2", 4)
    yard.minus("N108", "E3.-", "G1.-", "4 mm2", 4)
    yard.load("E4", "pump", current_a=3, intermittent=True)
    yard.pair("C4", "P1.w4", "E4.+", "4 mm2", 4)
    yard.part("F5", "breaker", rated_a=200, **{**BREAKER, "interrupt_a": 20000})
    yard.load("E5", "windlass", current_a=60, maker_fuse_min_a=70, maker_fuse_max_a=100,
              intermittent=True, run_s=120, thermal_cutout=True, own_switch=True)
    yard.plus("W51", "X1.s3", "F5.a", "35 mm2")
    yard.plus("W52", "F5.b", "E5.+", "35 mm2", 6)
    yard.minus("N5", "E5.-", "X2.s3", "10 mm2", 6)
    yard.load("E20", "bilge_pump", role="bilge_pump_automatic", current_a=3, stays_live=True,
              maker_fuse_max_a=10)
    yard.fused(20, "G1.+", "E20.+", 10, "4 mm2", 5)
    yard.minus("N20", "E20.-", "X2.s4", "4 mm2", 5)
    yard.part("G9", "shore_inlet", rated_a=16, nominal_v=230, poles="L_N_E")
    yard.part("T1", "shore_charger", rated_a=40, output_v=24, output_count=1,
              absorption_v=28.8, float_v=27)
    yard.shore("A1", "G9.ac", "T1.ac")
    yard.fused(6, "G1.+", "T1.1+", 60, "16 mm2", 2)
    yard.minus("N6", "T1.-", "X2.s5", "16 mm2", 2)


def _electronics(yard: Yard) -> None:
    _bank(yard, "G3", 1, "house")
    yard.fuse("F31", 80, on_post=True, holder_rated_a=80, **FUSE)
    _main_switch(yard, "Q31")
    yard.panel("P2", way(5, "plotter", interrupt_a=10000),
               way(5, "radar", interrupt_a=10000), bus_rated_a=100, negative_bar=True,
               enclosed=True)
    yard.busbar("X4", pole="-", stud_count=6, rated_a=150, one_screw_each=True)
    yard.plus("W311", "G3.+", "F31.a", "35 mm2", 0.1)
    yard.plus("W312", "F31.b", "Q31.a", "35 mm2", 0.4)
    yard.plus("W313", "Q31.b", "P2.in", "35 mm2", 1)
    yard.minus("N31", "G3.-", "X4.s1", "35 mm2", 0.5)
    yard.minus("N32", "P2.-", "X4.s2", "35 mm2", 1)
    yard.load("E31", "instrument", current_a=2)
    yard.pair("C31", "P2.w1", "E31.+", "4 mm2", 3)
    yard.load("E32", "instrument", current_a=2)
    yard.pair("C32", "P2.w2", "E32.+", "4 mm2", 4)
    yard.part("T3", "dc_dc_charger", input_v=24, output_v=12, rated_output_a=30, isolated=False,
              efficiency=0.9, input_min_v=18, input_max_v=32, absorption_v=14.4, float_v=13.5,
              start_above_v=26.6, stop_below_v=25.4, run_signal="none")
    yard.fused(32, "X1.s4", "T3.in+", 30, "10 mm2", 2)
    yard.fused(33, "G3.+", "T3.out+", 40, "10 mm2", 2)
    yard.minus("N33", "T3.-", "X2.s6", "10 mm2", 2)


def _radio_bank(yard: Yard) -> None:
    _bank(yard, "G4", 1, "house")
    yard.fuse("F41", 80, on_post=True, holder_rated_a=80, **FUSE)
    _main_switch(yard, "Q4")
    yard.panel("P3", way(10, "radio", interrupt_a=10000), way(5, "spare", spare=True,
               interrupt_a=10000), bus_rated_a=100,
               negative_bar=True, enclosed=True)
    yard.plus("W411", "G4.+", "F41.a", "35 mm2", 0.1)
    yard.plus("W412", "F41.b", "Q4.a", "35 mm2", 0.4)
    yard.plus("W413", "Q4.b", "P3.in", "35 mm2", 1)
    yard.minus("N41", "G4.-", "X2.s7", "50 mm2", 1)
    yard.minus("N42", "P3.-", "X2.s8", "35 mm2", 1)
    yard.load("E41", "radio", current_a=5)
    yard.pair("C41", "P3.w1", "E41.+", "10 mm2", 3)
    yard.part("T4", "shore_charger", rated_a=15, output_v=12, output_count=1,
              absorption_v=14.4, float_v=13.5)
    yard.shore("A2", "G9.ac", "T4.ac")
    yard.fused(42, "G4.+", "T4.1+", 25, "6 mm2", 2)
    yard.minus("N43", "T4.-", "X2.s9", "6 mm2", 2)
    yard.switch("Q3", "emergency_link", rated_continuous_a=300, rated_cranking_a=1000,
                rated_v=48, role="emergency_link", normal="open", poles="+")
    yard.fused(43, "G1.+", "Q3.a", 100, "50 mm2", 1)
    yard.fused(44, "G4.+", "Q3.b", 100, "50 mm2", 1)


def _start(yard: Yard) -> None:
    _bank(yard, "G2", 2, "start")
    yard.part("M2", "engine_block", fuel="diesel", type="inboard", stop="mechanical",
              runs_without_power=True)
    yard.part("M1", "starter", cranking_a=200, driven_by="M2")
    _main_switch(yard, "Q2")
    yard.plus("W21", "G2.+", "Q2.a", "95 mm2", 0.6, sheath="whole")
    yard.plus("W22", "Q2.b", "M1.+", "95 mm2", 1.2, sheath="whole", engine_space_m=1)
    yard.minus("N21", "G2.-", "X2.s10", "95 mm2", 1)
    yard.minus("N22", "M1.-", "X2.s11", "95 mm2", 1.2, engine_space_m=1)
    yard.part("G5", "alternator", rated_a=80, nominal_v=24, driven_by="M2", regulation="internal",
              set_v=28.4)
    yard.fused(10, "G2.+", "G5.+", 150, "50 mm2", 2.5, engine_space_m=1, sheath="whole")
    yard.minus("N10", "G5.-", "X2.s12", "50 mm2", 2, engine_space_m=1)
