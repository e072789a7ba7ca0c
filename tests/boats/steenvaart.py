"""Steenvaart, 14 m steel canal boat of 24 V, two-wire insulated, with 230 V.

Planted: an earth beside the galvanic isolator (7.5), which is rated below the inlet (7.6); an
inverter that is not made for fixed wiring feeds the panel (9.13).
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.fittings import SEEN
from tests.boats.yard import FUSE, Yard


def steenvaart() -> Diagram:
    """Return the boat."""
    yard = Yard("iso", nominal_v=24, earthing="insulated", returns="drawn")
    yard.boat(name="Steenvaart", length_m=14, hull="steel", kept="afloat", shore_nominal_v=230,
              shore_polarity_assured=False)
    yard.part("E90", "hull_bond", metal_hull=True)
    _house(yard)
    _alternating(yard)
    return yard.diagram()


def _house(yard: Yard) -> None:
    yard.battery("G1", series_count=2, chemistry="agm", capacity_ah=300, max_charge_v=29.2,
                 rest_v=25.6, internal_resistance_ohm=0.004, cranking_a=1000, duty="house",
                 takeoff="diagonal", block_fuses="each", **SEEN)
    yard.fuse("F1", 250, poles="both", on_post=True, holder_rated_a=250, **FUSE)
    yard.switch("Q1", rated_continuous_a=350, rated_v=60, role="bank", normal="closed",
                poles="both", kills="all of 24 V", within_reach=True)
    yard.busbar("X1", pole="+", stud_count=8, rated_a=500, one_screw_each=True, covered=True)
    yard.busbar("X2", pole="-", stud_count=8, rated_a=500, one_screw_each=True, covered=True)
    for plus, minus, start, end in (("W1", "N1", "G1", "F1.a"), ("W2", "N2", "F1.b", "Q1.a"),
                                    ("W3", "N3", "Q1.b", "X")):
        yard.plus(plus, f"{start}.+" if start == "G1" else start,
                  f"{end}1.s1" if end == "X" else end, "95 mm2", 0.1 if start == "G1" else 0.4)
        yard.minus(minus, f"{start}.-" if start == "G1" else start,
                   f"{end}2.s1" if end == "X" else end, "95 mm2", 0.1 if start == "G1" else 0.4)
    yard.load("E1", "lamp", current_a=2)
    yard.fused_both(2, "X1.s2", "X2.s2", "E1.+", 5, "2.5 mm2", 3)
    yard.load("E2", "refrigerator", current_a=4)
    yard.fused_both(3, "X1.s3", "X2.s3", "E2.+", 10, "6 mm2", 3)


def _alternating(yard: Yard) -> None:
    yard.part("G9", "shore_inlet", rated_a=16, nominal_v=230, poles="L_N_E")
    yard.part("F77", "residual_current_breaker", rated_a=16, rated_ac_v=230,
              poles_opened="L_and_N", residual_ma=30, interrupt_a=3000)
    yard.shore("A1", "G9.ac", "F77.a", 0.4)
    yard.part("T1", "shore_charger", rated_a=40, output_v=24, absorption_v=28.8, float_v=26.6,
              sense="own_terminal", temperature_sensor=True, double_insulated=False)
    yard.shore("A2", "F77.b", "T1.ac")
    yard.fused_both(4, "G1.+", "G1.-", "T1.1+", 50, "10 mm2", 2)
    yard.part("R9", "galvanic_isolator", rated_a=10, fail_safe=True)
    yard.earth("EA1", "F77.b", "R9.a")
    yard.earth("EA2", "R9.b", "E90.n")
    yard.earth("EA3", "F77.b", "E90.n")
    yard.part("T9", "inverter", rated_w=1000, input_v=24, output_v=230, min_dc_v=21,
              efficiency=0.9, for_fixed_wiring=False, output_neutral="floating",
              warning_text="Second source of 230 V", soft_start=True)
    yard.fused_both(5, "X1.s5", "X2.s5", "T9.+", 100, "35 mm2", 1)
    yard.part("P8", "ac_panel", dc_parts_in_box="none", warning_text="Second source of 230 V",
              ways=({"id": "w1", "device": "breaker", "rated_a": 10, "poles": "both",
                     "label": "socket", "residual_ma": 30},))
    yard.shore("A3", "T9.ac", "P8.in", 1)
    yard.part("E61", "ac_socket", double_insulated=True, ground_fault_ma=0)
    yard.shore("A4", "P8.w1", "E61.ac", 3)
    yard.earth("EA4", "T9.ac", "E90.n")
