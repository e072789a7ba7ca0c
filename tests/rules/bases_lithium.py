"""A boat whose lithium bank's unit works a contactor for charging and one for the loads."""

from __future__ import annotations

from typing import Any

from model.diagram import Diagram
from tests.boat_builder import Boat
from tests.mains import mains
from tests.rules.charging_facts import ALTERNATOR, MANAGED, SHORE

DRY = {"insulation_c": 105, "engine_space_m": 0, "colour": "red"}
NEAR = {**DRY, "length_m": 0.15}
DEVICE = {"rated_dc_v": 58, "interrupt_a": 20000}


def run(length_m: float) -> dict[str, Any]:
    """Return the fields of a conductor of that length whose ampacity is fully known."""
    return {**DRY, "length_m": length_m}


def two_buses() -> Diagram:
    """Return a 12 V boat with a lithium house bank G1, its unit A1, the charge contactor K1 with
    bus X1, the load contactor K2 with bus X2, and a lead start bank G2; nothing to say of it.

    The charger T1 and the converter T5 are on X1, loads on X2 behind the switch Q1. The hand switch
    S1 breaks the supply of the unit.
    """
    boat = Boat("us").boat(aboard=("jump_pack",))
    _bank(boat)
    _buses(boat)
    _start(boat)
    return boat.diagram()


def _bank(boat: Boat) -> None:
    boat.battery("G1", chemistry="lfp", capacity_ah=200, max_charge_v=14.4, max_charge_a=100,
                 max_discharge_a=200, peak_discharge_a=400, internal_resistance_ohm=0.002,
                 duty="house", **{**MANAGED, "management": "external", "management_unit": "A1"})
    boat.part("A1", "battery_management_unit", alarm="sounder", reports_state_of_charge=True,
              drives=({"id": "K1", "role": "charge"}, {"id": "K2", "role": "load"}))
    boat.fuse("F1", 200, **DEVICE).busbar("X0", stud_count=6)
    boat.wire("W1", "G1.+", "F1.a", "70 mm2", **NEAR)
    boat.wire("W2", "F1.b", "X0.s1", "70 mm2", **run(0.3))
    boat.fuse("F9", 3, **DEVICE).switch("S1", "load_switch")
    boat.wire("W91", "G1.+", "F9.a", "1.5 mm2", **NEAR)
    boat.wire("W92", "F9.b", "S1.a", "1.5 mm2", **run(1))
    boat.wire("W93", "S1.b", "A1.supply", "1.5 mm2", **run(1))


def _buses(boat: Boat) -> None:
    for n, role in ((1, "charge"), (2, "load")):
        boat.part(f"K{n}", "contactor", normal="closed", driven_by="A1", remote="without",
                  rated_continuous_a=300, rated_cranking_a=1000, name=f"{role} contactor")
        boat.busbar(f"X{n}", stud_count=8)
        boat.wire(f"W{n}1", f"X0.s{n + 1}", f"K{n}.a", "70 mm2", **run(0.3))
        boat.wire(f"W{n}2", f"K{n}.b", f"X{n}.s1", "70 mm2", **run(0.3))
        boat.wire(f"D{n}", "A1.trip", f"K{n}.coil+", "1.5 mm2", cores=("signal",),
                  purpose="control", length_m=1)
    boat.part("T1", "shore_charger", rated_a=30, **SHORE)
    mains(boat, "W20", "T1.ac")
    boat.fuse("F3", 40, **DEVICE)
    boat.wire("W13", "X1.s2", "F3.a", "10 mm2", **NEAR)
    boat.wire("W14", "F3.b", "T1.1+", "10 mm2", **run(2))
    boat.switch("Q1").load("E1", current_a=20).fuse("F2", 30, **DEVICE)
    boat.wire("W23", "X2.s2", "F2.a", "10 mm2", **NEAR)
    boat.wire("W24", "F2.b", "Q1.a", "10 mm2", **run(1))
    boat.wire("W25", "Q1.b", "E1.+", "10 mm2", **run(2))


def _start(boat: Boat) -> None:
    boat.battery("G2", chemistry="flooded", capacity_ah=70, cranking_a=650, max_charge_v=14.8,
                 duty="start")
    boat.switch("Q2").part("M1", "starter", cranking_a=180)
    boat.wire("W30", "G2.+", "Q2.a", "50 mm2", **run(0.8))
    boat.wire("W31", "Q2.b", "M1.+", "50 mm2", **run(1.5))
    boat.part("G5", "alternator", rated_a=90, **ALTERNATOR).fuse("F5", 150, **DEVICE)
    boat.wire("W33", "G2.+", "F5.a", "50 mm2", **NEAR)
    boat.wire("W32", "F5.b", "G5.+", "50 mm2", **run(2))
    boat.part("T5", "dc_dc_charger", input_v=12, output_v=12, rated_output_a=30, isolated=False,
              run_signal="wired", absorption_v=14.2, float_v=13.5,
               temperature_compensation=False)
    for n, at, to in ((6, "G2.+", "T5.in+"), (7, "X1.s3", "T5.out+")):
        boat.fuse(f"F{n}", 60, **DEVICE)
        boat.wire(f"W{n}1", at, f"F{n}.a", "25 mm2", **NEAR)
        boat.wire(f"W{n}2", f"F{n}.b", to, "25 mm2", **run(2))


BASES = {"two_buses": two_buses}
