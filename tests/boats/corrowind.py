"""Corrowind, 14 m charter yacht of 12 V; negative earthed, returns not drawn. Planted faults:

1. The solar controller T2 charges bus X1, the load side of switch Q1 (so X1 also stays live by it).
2. Panel P2 is fed over F5 and over F6.
3. Switch Q4 is bridged by W74: the saloon lamps E7 burn on.
4. F9, 200 A, feeds the windlass over two cables of 25 mm2 (160 A and 170 A) without a fuse each.
5. Six lugs on the positive post of G1.
6. A twist-on joint in C4.
Main with everything on: 90 + 30 A; bank to X1 and back 1.8 m x 0.21 = 0.4 mOhm, 0.05 V. Starter
160 A x 4 m x 0.21 mOhm = 0.13 V. Windlass 90 A x 8 m x 0.4 mOhm = 0.29 V, 2.4 %. Fault at G1
12.8 V / 2 mOhm = 6.4 kA, with G2 9 kA.
"""

from __future__ import annotations

from model.diagram import Diagram, Joint
from tests.boats.yard import FUSE, Yard, way


def corrowind() -> Diagram:
    """Return the charter yacht."""
    yard = Yard("iso")
    yard.boat(name="Corrowind", length_m=14, hull="grp", kept="afloat", shore_nominal_v=230)
    _house(yard)
    _panels(yard)
    _start(yard)
    _charging(yard)
    return yard.diagram()


def _house(yard: Yard) -> None:
    yard.battery("G1", chemistry="agm", capacity_ah=200, parallel_count=1, cranking_a=1000,
                 internal_resistance_ohm=0.002, rest_v=12.8, max_charge_v=14.6, duty="house")
    yard.fuse("F1", 300, on_post=True, holder_rated_a=300, **FUSE)
    yard.switch("Q1", rated_continuous_a=350, rated_cranking_a=1000, rated_v=48, role="bank",
                normal="closed", poles="+", kills="house loads")
    yard.busbar("X1", pole="+", stud_count=10, rated_a=500, one_screw_each=True)
    yard.plus("W1", "G1.+", "F1.a", "95 mm2", 0.1)
    yard.plus("W2", "F1.b", "Q1.a", "95 mm2", 0.4)
    yard.plus("W3", "Q1.b", "X1.s1", "95 mm2", 0.4)
    yard.load("E7", "lamp", current_a=2)
    yard.switch("Q4", "load_switch", role="load", normal="closed", poles="+",
                rated_continuous_a=20, rated_v=48, kills="saloon lamps")
    yard.fused(7, "X1.s2", "Q4.a", 10, "6 mm2", 1)
    yard.plus("W73", "Q4.b", "E7.+", "6 mm2", 2)
    yard.plus("W74", "F7.b", "E7.+", "6 mm2", 3)
    yard.load("E9", "windlass", current_a=90, maker_fuse_min_a=100, maker_fuse_max_a=200,
              intermittent=True, run_s=120, thermal_cutout=True, own_switch=True)
    yard.fuse("F9", 200, holder_rated_a=200, **FUSE)
    yard.plus("W91", "X1.s3", "F9.a", "70 mm2")
    yard.plus("W92", "F9.b", "E9.+", "25 mm2", 4)
    yard.plus("W93", "F9.b", "E9.+", "25 mm2", 4)


def _panels(yard: Yard) -> None:
    yard.panel("P1", way(5, "masthead light"), way(5, "plotter"), way(10, "radio"),
               way(5, "cabin lamps"), way(10, "fridge"), bus_rated_a=100, negative_bar=True,
               enclosed=True)
    yard.fused(3, "X1.s4", "P1.in", 60, "35 mm2", 2)
    for n, (kind, current_a, size, length_m) in enumerate((
            ("navigation_light", 0.5, "2.5 mm2", 12), ("instrument", 2, "4 mm2", 3),
            ("radio", 4, "6 mm2", 3), ("lamp", 2, "2.5 mm2", 5),
            ("refrigerator", 4, "6 mm2", 4)), start=1):
        yard.load(f"E{n}", kind, current_a=current_a)
        joints = (Joint(type="twist_on", sealed=False),) if n == 4 else ()
        yard.plus(f"C{n}", f"P1.w{n}", f"E{n}.+", size, length_m, joints=joints)
    yard.panel("P2", way(10, "pump"), way(10, "socket"), bus_rated_a=100, negative_bar=True,
               enclosed=True)
    yard.fused(5, "X1.s5", "P2.in", 40, "16 mm2", 2)
    yard.fused(6, "X1.s6", "P2.in", 40, "16 mm2", 2)
    yard.load("E10", "pump", current_a=5, intermittent=True)
    yard.plus("C10", "P2.w1", "E10.+", "6 mm2", 4)
    yard.load("E11", "socket", current_a=3)
    yard.plus("C11", "P2.w2", "E11.+", "4 mm2", 4)


def _start(yard: Yard) -> None:
    yard.battery("G2", chemistry="flooded", capacity_ah=90, cranking_a=700, max_charge_v=14.8,
                 internal_resistance_ohm=0.005, rest_v=12.7, duty="start")
    yard.part("M2", "engine_block", fuel="diesel", type="inboard", stop="mechanical",
              runs_without_power=True)
    yard.part("M1", "starter", cranking_a=160, driven_by="M2")
    yard.switch("Q2", rated_continuous_a=300, rated_cranking_a=1000, rated_v=48, role="bank",
                normal="closed", poles="+", kills="engine")
    yard.switch("Q3", "emergency_link", rated_continuous_a=300, rated_cranking_a=1000,
                rated_v=48, role="emergency_link", normal="open", poles="+")
    yard.plus("B30", "G2.+", "Q2.a", "95 mm2", 0.6, sheath="whole")
    yard.plus("B31", "Q2.b", "M1.+", "95 mm2", 1.2, sheath="whole", engine_space_m=1)
    yard.plus("B32", "Q1.b", "Q3.a", "95 mm2", 0.5, sheath="whole")
    yard.plus("B33", "Q3.b", "Q2.b", "95 mm2", 0.5, sheath="whole")


def _charging(yard: Yard) -> None:
    yard.part("G9", "shore_inlet", rated_a=16, nominal_v=230, poles="L_N_E")
    yard.part("T1", "shore_charger", rated_a=40, output_v=12, output_count=1,
              absorption_v=14.4, float_v=13.5)
    yard.shore("A1", "G9.ac", "T1.ac")
    yard.fused(10, "G1.+", "T1.1+", 60, "16 mm2", 2)
    yard.part("G5", "alternator", rated_a=90, nominal_v=12, driven_by="M2", regulation="internal",
              set_v=14.4)
    yard.fused(11, "G1.+", "G5.+", 150, "50 mm2", 2.5, engine_space_m=1, sheath="whole")
    yard.part("K1", "voltage_sensing_relay", rated_a=160, close_above_v=13.3, open_below_v=12.8,
              close_delay_s=30, senses="both")
    yard.fused(12, "G1.+", "K1.a", 125, "35 mm2", 2)
    yard.fuse("F13", 125, holder_rated_a=125, **FUSE)
    yard.plus("W131", "G2.+", "F13.a", "35 mm2")
    yard.plus("W132", "F13.b", "K1.b", "35 mm2", 2)
    yard.load("E20", "bilge_pump", role="bilge_pump_automatic", current_a=5, stays_live=True,
              maker_fuse_max_a=10)
    yard.fused(20, "G1.+", "E20.+", 10, "6 mm2", 4)
    yard.part("P9", "monitor", counts_current=False, needs_battery_side=True, current_a=0.01)
    yard.fused(22, "G1.+", "P9.+", 3, "2.5 mm2", 3)
    yard.part("G6", "solar_array", panel_w=100, series_count=2, parallel_count=1,
              panel_voc_v=22, panel_vmp_v=18, panel_isc_a=6, max_series_fuse_a=15)
    yard.part("T2", "solar_controller", type="mppt", rated_output_a=20, max_input_v=100,
              max_input_a=15, output_v=12, absorption_v=14.4, float_v=13.5)
    yard.plus("C61", "G6.+", "T2.pv+", "4 mm2", 5)
    yard.fused(8, "X1.s7", "T2.out+", 30, "6 mm2", 1)
