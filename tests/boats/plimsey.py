"""Plimsey, 7 m weekend boat of 12 V; negative earthed, returns not drawn. Planted faults:

1. W5, the house feed from the selector to bus X1, has no fuse, and the winch E2
   hangs on X1 without one.
2. F3, 60 A, on 2.5 mm2 (35 A in both tables: 171 %). A short still trips it: 2.3 m out and back of
   8.2 mOhm/m is 38 mOhm, 45 mOhm hot: 12.5 V / 52 mOhm = 240 A for 3 x 60 A.
3. W42 is black and positive.
4. Selector S1 passes through 0, with the alternator on its common point.
5. E9, a stereo of 3 A, sits straight on the start battery (behind a fuse of its own).
6. F5 resets by itself and feeds lamps.
Starter 120 A x 4 m x 0.39 mOhm = 0.19 V, 1.6 %.
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.yard import BREAKER, Yard


def plimsey() -> Diagram:
    """Return the careless weekend boat."""
    yard = Yard("us")
    yard.boat(name="Plimsey", length_m=7, hull="grp", kept="afloat", shore_nominal_v=230)
    _engine(yard)
    _house(yard)
    _at_the_batteries(yard)
    return yard.diagram()


def _engine(yard: Yard) -> None:
    yard.battery("G1", chemistry="agm", capacity_ah=100, cranking_a=700, duty="house",
                 internal_resistance_ohm=0.004, rest_v=12.8, max_charge_v=14.6)
    yard.battery("G2", chemistry="flooded", capacity_ah=70, cranking_a=600, duty="start",
                 internal_resistance_ohm=0.006, rest_v=12.7, max_charge_v=14.8)
    yard.part("S1", "selector_switch", rated_continuous_a=250, rated_intermittent_a=350,
              rated_cranking_a=900, normal_position="1", make_before_break=True,
              order="1 B 2 0", field_contacts=False, role="bank")
    yard.part("M2", "engine_block", fuel="diesel", type="inboard", stop="mechanical",
              runs_without_power=True)
    yard.part("M1", "starter", cranking_a=120, driven_by="M2")
    yard.part("G5", "alternator", rated_a=55, nominal_v=12, driven_by="M2", regulation="internal",
              set_v=14.4, surge_protected=False)
    yard.plus("W1", "G1.+", "S1.1", "50 mm2", 0.6, sheath="whole")
    yard.plus("W2", "G2.+", "S1.2", "50 mm2", 0.6, sheath="whole")
    yard.plus("W3", "S1.c", "M1.+", "50 mm2", 1.2, sheath="whole", engine_space_m=0.8)
    yard.plus("W4", "G5.+", "M1.+", "35 mm2", 0.6, sheath="whole", engine_space_m=0.6,
              factory_harness=True)


def _house(yard: Yard) -> None:
    yard.busbar("X1", pole="+", stud_count=8, rated_a=250, one_screw_each=True)
    yard.plus("W5", "S1.c", "X1.s1", "50 mm2", 1)
    yard.load("E2", "load", current_a=30, own_switch=True, intermittent=True)
    yard.plus("W6", "X1.s2", "E2.+", "25 mm2", 3)
    yard.load("E3", "pump", current_a=5, own_switch=True, intermittent=True)
    yard.fused(3, "X1.s3", "E3.+", 60, "2.5 mm2", 2)
    yard.load("E4", "refrigerator", current_a=4, own_switch=True)
    yard.fused(4, "X1.s4", "E4.+", 15, "6 mm2", 3, colour="black")
    yard.load("E5", "lamp", current_a=2)
    yard.part("F5", "breaker", rated_a=10, **{**BREAKER, "reset": "automatic"})
    yard.plus("W51", "X1.s5", "F5.a", "2.5 mm2")
    yard.plus("W52", "F5.b", "E5.+", "2.5 mm2", 3)
    yard.load("E6", "navigation_light", current_a=0.8, own_switch=True)
    yard.fused(6, "X1.s6", "E6.+", 5, "2.5 mm2", 6)
    yard.load("E7", "instrument", current_a=1, own_switch=True)
    yard.fused(7, "X1.s7", "E7.+", 5, "2.5 mm2", 3)


def _at_the_batteries(yard: Yard) -> None:
    yard.load("E8", "bilge_pump", role="bilge_pump_automatic", current_a=4, stays_live=True,
              maker_fuse_max_a=10)
    yard.fused(8, "G1.+", "E8.+", 10, "6 mm2", 3)
    yard.load("E9", "load", role="entertainment", current_a=3, own_switch=True)
    yard.fused(9, "G2.+", "E9.+", 10, "4 mm2", 2)
    yard.part("G9", "shore_inlet", rated_a=16, nominal_v=230, poles="L_N_E")
    yard.part("T1", "shore_charger", rated_a=15, output_v=12, output_count=1,
              absorption_v=14.4, float_v=13.5)
    yard.shore("A1", "G9.ac", "T1.ac")
    yard.fused(10, "G1.+", "T1.1+", 25, "6 mm2", 2)
