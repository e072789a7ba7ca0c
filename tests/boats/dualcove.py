"""Dualcove, 13 m catamaran with an engine and a start bank in each hull; 12 V, returns not drawn.

Planted: the converter of the port start bank runs on though its engine is stopped (3.11); radio,
plotter, lights and pilot hang on one fuse (10.7), and a winch with them (10.14).
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.fittings import (
    alternator,
    battery_bus,
    bilge,
    branch,
    charger,
    house,
    shore,
    starting,
)
from tests.boats.yard import Yard


def dualcove() -> Diagram:
    """Return the boat."""
    yard = Yard("us")
    yard.boat(name="Dualcove", length_m=13, hull="grp", kept="afloat", shore_nominal_v=230,
              aboard=("jump_pack", "handheld_radio"))
    house(yard)
    battery_bus(yard)
    bilge(yard, start="X3.s2")
    branch(yard, 32, "refrigerator", 4)
    starting(yard, 2, 12, "M2", "M1")
    starting(yard, 3, 12, "M4", "M3")
    alternator(yard, "G5", 5, "G2.+", "M2")
    alternator(yard, "G6", 6, "G3.+", "M4")
    yard.part("T2", "dc_dc_charger", input_v=12, output_v=12, rated_output_a=30, isolated=False,
              run_signal="none", start_above_v=12.8, stop_below_v=12.0, absorption_v=14.4,
              float_v=13.3, efficiency=0.9, sense="own_terminal")
    yard.part("T3", "dc_dc_charger", input_v=12, output_v=12, rated_output_a=30, isolated=False,
              run_signal="wired", absorption_v=14.4, float_v=13.3, efficiency=0.9,
              sense="own_terminal")
    for n, start, end in ((12, "G2.+", "T2.in+"), (13, "X3.s3", "T2.out+"), (14, "G3.+", "T3.in+"),
                          (15, "X3.s4", "T3.out+")):
        yard.fused(n, start, end, 60, "16 mm2", 2)
    charger(yard, to="X3.s5")
    shore(yard, "T1.ac")
    _navigation(yard)
    return yard.diagram()


def _navigation(yard: Yard) -> None:
    yard.busbar("X5", pole="+", stud_count=8, rated_a=100, one_screw_each=True, covered=True)
    yard.fused(41, "X1.s9", "X5.s1", 60, "16 mm2", 1)
    for n, kind, amps in ((42, "radio", 5), (43, "instrument", 2), (44, "navigation_light", 1),
                          (45, "autopilot", 4)):
        yard.load(f"E{n}", kind, current_a=amps)
        yard.plus(f"C{n}", f"X5.s{n - 40}", f"E{n}.+", "16 mm2", 2)
    yard.load("E46", "load", role="winch", current_a=25, intermittent=True, thermal_cutout=True,
              run_s=60, own_switch=True)
    yard.plus("C46", "X5.s6", "E46.+", "16 mm2", 2)
