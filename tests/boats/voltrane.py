"""Voltrane, 12 m hybrid with a floating 48 V lithium bank and an isolated converter to 12 V.

Planted: nothing sounds before the management opens (6.4); it may be charged in the cold (6.9); the
motor controller's capacitors are charged at one blow by the switch (6.13).
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.fittings import SEEN, shore
from tests.boats.yard import FUSE, Yard


def voltrane() -> Diagram:
    """Return the boat."""
    yard = Yard("us", nominal_v=48, earthing="insulated", returns="drawn")
    yard.system("S2", 12)
    yard.boat(name="Voltrane", length_m=12, hull="grp", kept="afloat", shore_nominal_v=230,
              lowest_temperature_c=1)
    _propulsion(yard)
    _twelve_volts(yard)
    return yard.diagram()


def _propulsion(yard: Yard) -> None:
    yard.battery("G1", block_nominal_v=48, chemistry="lfp", capacity_ah=300, max_charge_v=57.6,
                 rest_v=53, internal_resistance_ohm=0.01, max_charge_a=100, max_discharge_a=200,
                 duty="dual", management="internal", alarm="none", reports_state_of_charge=True,
                 cold_charge_cutoff=False, heated=False, **SEEN)
    yard.fuse("F1", 200, poles="both", on_post=True, holder_rated_a=200, **FUSE)
    yard.switch("Q1", rated_continuous_a=300, rated_v=60, role="bank", normal="closed",
                poles="both", kills="all of 48 V", within_reach=True)
    yard.busbar("X1", pole="+", stud_count=6, rated_a=300, one_screw_each=True, covered=True)
    yard.busbar("X2", pole="-", stud_count=6, rated_a=300, one_screw_each=True, covered=True)
    yard.plus("W1", "G1.+", "F1.a", "95 mm2", 0.1)
    yard.minus("N1", "G1.-", "F1.a", "95 mm2", 0.1)
    yard.plus("W2", "F1.b", "Q1.a", "95 mm2", 0.4)
    yard.minus("N2", "F1.b", "Q1.a", "95 mm2", 0.4)
    yard.plus("W3", "Q1.b", "X1.s1", "95 mm2", 0.4)
    yard.minus("N3", "Q1.b", "X2.s1", "95 mm2", 0.4)
    yard.part("A9", "motor_controller", rated_continuous_a=150, rated_v=60, soft_start=False)
    yard.fused_both(2, "X1.s2", "X2.s2", "A9.in+", 160, "70 mm2", 2)
    yard.load("E9", "motor", role="propulsion", current_a=80)
    yard.pair("C9", "A9.out", "E9.+", "70 mm2", 1)
    yard.part("T1", "shore_charger", rated_a=30, output_v=48, absorption_v=56.8, float_v=53.6,
              sense="own_terminal", double_insulated=False)
    yard.fused_both(3, "G1.+", "G1.-", "T1.1+", 50, "16 mm2", 2)


def _twelve_volts(yard: Yard) -> None:
    yard.battery("G2", chemistry="agm", capacity_ah=100, max_charge_v=14.6, rest_v=12.8,
                 internal_resistance_ohm=0.004, duty="house", **SEEN)
    yard.fuse("F4", 100, on_post=True, holder_rated_a=100, **FUSE)
    yard.switch("Q2", rated_continuous_a=150, rated_v=60, role="bank", normal="closed", poles="+",
                kills="house", within_reach=True)
    yard.busbar("X3", pole="+", stud_count=6, rated_a=200, one_screw_each=True, covered=True)
    yard.plus("W41", "G2.+", "F4.a", "35 mm2", 0.1)
    yard.plus("W42", "F4.b", "Q2.a", "35 mm2", 0.5)
    yard.plus("W43", "Q2.b", "X3.s1", "35 mm2", 0.5)
    yard.load("E1", "lamp", current_a=2)
    yard.fused(5, "X3.s2", "E1.+", 5, "2.5 mm2", 3)
    yard.part("M2", "earth_plate")
    yard.wire("N9", "G2.-", "M2.n", "25 mm2", length_m=1, cores=("-",), insulation_c=105,
              engine_space_m=0, colour="yellow", construction="stranded", cable_type="marked")
    yard.part("T2", "dc_dc_charger", input_v=48, output_v=12, rated_output_a=30, isolated=True,
              run_signal="wired", absorption_v=14.4, float_v=13.3, efficiency=0.92,
              sense="own_terminal")
    yard.fused_both(6, "X1.s4", "X2.s4", "T2.in+", 15, "6 mm2", 2)
    yard.fused(7, "G2.+", "T2.out+", 50, "10 mm2", 1.5)
    shore(yard, "T1.ac", ground="M2.n")
