"""Dabbersley, 6 m petrol day boat of 12 V; negative earthed, returns drawn. Planted faults:

1. Switch Q1 and fuse F5 stand in the petrol engine's space and are not ignition protected.
2. Lamp E3 is switched in its negative only, by S3.
3. The pot hauler E4, 20 A, has its only fuse, F4, in the negative.
4. Bilge pump E8: 6 A over 9.15 m of 1.5 mm2, out and back 18.3 m x 13.7 mOhm = 0.25 Ohm: 1.5 V,
   12.5 %, over the 10 % of the one practice and the 3 % of the other. A short still trips F8:
   12.5 V / 0.31 Ohm = 40 A, hot, for 3 x 10 A.
5. W72 is one 18 AWG wire (0.82 mm2), 3 m long, under both least sizes; it carries 1.5 A.
Starter 120 A x 3.2 m x 0.57 mOhm = 0.22 V, 1.8 %.
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.yard import FUSE, Yard

ENGINE = {"place": "PL1", "ignition_protected": True}


def dabbersley() -> Diagram:
    """Return the petrol day boat."""
    yard = Yard("us", returns="drawn", negative_datum="X2.s1")
    yard.boat(name="Dabbersley", length_m=6, hull="grp", kept="trailer")
    yard.place("PL1", "petrol_engine_space", "engine box")
    yard.place("PL2", "helm", "helm")
    yard.place("PL3", "locker", "stern locker")
    _engine(yard)
    _loads(yard)
    return yard.diagram()


def _engine(yard: Yard) -> None:
    yard.battery("G1", chemistry="agm", capacity_ah=80, cranking_a=640, max_charge_v=14.6,
                 internal_resistance_ohm=0.005, rest_v=12.8, duty="dual", place="PL3")
    yard.part("M2", "engine_block", fuel="petrol", type="inboard", place="PL1")
    yard.part("M1", "starter", cranking_a=120, driven_by="M2", **ENGINE)
    yard.switch("Q1", rated_continuous_a=250, rated_cranking_a=900, rated_v=48, role="bank",
                normal="closed", poles="+", kills="everything but the bilge pump", place="PL1",
                ignition_protected=False)
    yard.busbar("X2", pole="-", stud_count=12, rated_a=250, one_screw_each=True, place="PL3")
    yard.plus("W1", "G1.+", "Q1.a", "35 mm2", 0.6, sheath="whole", engine_space_m=0.3)
    yard.plus("W2", "Q1.b", "M1.+", "35 mm2", 0.8, sheath="whole", engine_space_m=0.8)
    yard.minus("N1", "G1.-", "X2.s1", "35 mm2", 0.8)
    yard.minus("N2", "M1.-", "X2.s2", "35 mm2", 1, engine_space_m=0.5)
    yard.part("G5", "alternator", rated_a=50, nominal_v=12, driven_by="M2", regulation="internal",
              set_v=14.4, **ENGINE)
    yard.fused(5, "G1.+", "G5.+", 80, "25 mm2", 1.5, engine_space_m=1, sheath="whole",
               device={"place": "PL1", "ignition_protected": False})
    yard.minus("N5", "G5.-", "X2.s3", "25 mm2", 1.5, engine_space_m=1)


def _loads(yard: Yard) -> None:
    yard.fuse("F1", 60, holder_rated_a=60, place="PL3", **FUSE)
    yard.busbar("X1", pole="+", stud_count=8, rated_a=150, one_screw_each=True, place="PL2")
    yard.plus("W11", "Q1.b", "F1.a", "16 mm2", 0.15, sheath="whole")
    yard.plus("W12", "F1.b", "X1.s1", "16 mm2", 1.5)
    yard.load("E3", "lamp", current_a=1.5, place="PL2")
    yard.switch("S3", "load_switch", role="load", normal="closed", poles="-",
                rated_continuous_a=15, rated_v=48, place="PL2")
    yard.fused(3, "X1.s2", "E3.+", 5, "2.5 mm2", 2)
    yard.minus("N31", "E3.-", "S3.a", "2.5 mm2", 1)
    yard.minus("N32", "S3.b", "X2.s4", "2.5 mm2", 2)
    yard.load("E4", "load", current_a=20, own_switch=True, intermittent=True, place="PL2")
    yard.fuse("F4", 40, poles="-", holder_rated_a=40, place="PL2", **FUSE)
    yard.plus("W41", "Q1.b", "E4.+", "16 mm2", 2)
    yard.minus("N41", "E4.-", "F4.a", "16 mm2", 1)
    yard.minus("N42", "F4.b", "X2.s5", "16 mm2", 1)
    yard.load("E6", "navigation_light", current_a=0.8, own_switch=True, place="PL2")
    yard.fused(6, "X1.s3", "E6.+", 5, "2.5 mm2", 3)
    yard.minus("N6", "E6.-", "X2.s6", "2.5 mm2", 4)
    yard.load("E7", "instrument", current_a=1.5, own_switch=True, place="PL2")
    yard.fused(7, "X1.s4", "E7.+", 3, "18 awg", 3, sheath="none")
    yard.minus("N7", "E7.-", "X2.s7", "2.5 mm2", 4)
    yard.load("E9", "motor", role="blower", current_a=3, own_switch=True, **ENGINE)
    yard.fused(9, "X1.s5", "E9.+", 10, "6 mm2", 3)
    yard.minus("N9", "E9.-", "X2.s8", "6 mm2", 2)
    yard.load("E8", "bilge_pump", role="bilge_pump_automatic", current_a=6, stays_live=True,
              maker_fuse_max_a=10, **ENGINE)
    yard.fused(8, "G1.+", "E8.+", 10, "1.5 mm2", 9)
    yard.minus("N8", "E8.-", "X2.s9", "1.5 mm2", 9)
