"""The boat that the cases on the negative side start from: all its returns are drawn."""

from __future__ import annotations

from typing import Any

from model.diagram import Diagram
from tests.boat_builder import Boat
from tests.mains import mains
from tests.rules.charging_facts import ALTERNATOR, CHARGER_24, RELAY, SHORE

DRY = {"insulation_c": 105, "engine_space_m": 0, "colour": "red"}
DEVICE = {"rated_dc_v": 58, "interrupt_a": 10000}


def shunted() -> Diagram:
    """Return a 12 V boat whose returns are drawn, of which the rule book has nothing to say.

    House bank G1 with fuse F1, switch Q1, bus X1 and panel P1; its negative through shunt B1 to
    the negative bus X2 with datum. Start bank G2 with switch Q2 and starter M1, emergency link Q3;
    alternator G5 and charger T1 at G1, relay K1 between the banks, monitor P9.
    """
    boat = Boat("us", returns="drawn", negative_datum="X2.s1")
    boat.battery("G1", chemistry="agm", capacity_ah=200, parallel_count=2, cranking_a=1200,
                 max_charge_v=14.6, duty="house")
    boat.part("B1", "shunt", rated_a=500, rated_mv=50, short_time_a=700, measures="G1")
    boat.busbar("X2", pole="-", stud_count=12, rated_a=500)
    _minus(boat, "W100", "G1.-", "B1.a", "70 mm2")
    _minus(boat, "W101", "B1.b", "X2.s1", "70 mm2")
    _house(boat)
    _start(boat)
    _charging(boat)
    return boat.diagram()


def _plus(boat: Boat, item: str, start: str, finish: str, size: str, length_m: float = 0.15,
          **more: Any) -> None:
    boat.wire(item, start, finish, size, **DRY, length_m=length_m, **more)


def _minus(boat: Boat, item: str, start: str, finish: str, size: str) -> None:
    boat.wire(item, start, finish, size, cores=("-",), length_m=1,
              **{**DRY, "colour": "black"})


def _house(boat: Boat) -> None:
    boat.fuse("F1", 300, **DEVICE).switch("Q1", rated_continuous_a=300, role="bank")
    boat.busbar("X1", stud_count=8)
    _plus(boat, "W1", "G1.+", "F1.a", "70 mm2")
    _plus(boat, "W2", "F1.b", "Q1.a", "70 mm2", 0.5)
    _plus(boat, "W3", "Q1.b", "X1.s1", "70 mm2", 0.5)
    boat.fuse("F2", 30, **DEVICE).load("E1", current_a=8)
    _plus(boat, "W4", "X1.s2", "F2.a", "6 mm2", 0.1)
    _plus(boat, "W5", "F2.b", "E1.+", "6 mm2", 3)
    _minus(boat, "W105", "E1.-", "X2.s2", "6 mm2")
    boat.panel("P1", {"rated_a": 10, **DEVICE}, {"rated_a": 20, **DEVICE},
               negative_bar=True)
    _plus(boat, "W6", "X1.s3", "P1.in", "70 mm2", 3)
    _minus(boat, "W106", "P1.-", "X2.s3", "70 mm2")
    boat.load("E2", "lamp", current_a=4).load("E3", "pump", current_a=9)
    boat.wire("W7", "P1.w1", "E2.+", "2.5 mm2", cores=("+", "-"), length_m=4, **DRY)
    boat.wire("W8", "P1.w2", "E3.+", "2.5 mm2", cores=("+", "-"), length_m=3.5, **DRY)
    boat.fuse("F8", 3, **DEVICE).part("P9", "monitor", counts_current=True, current_a=0.01)
    _plus(boat, "W60", "G1.+", "F8.a", "2.5 mm2")
    _plus(boat, "W61", "F8.b", "P9.+", "2.5 mm2", 3)
    _minus(boat, "W160", "P9.-", "B1.a", "2.5 mm2")


def _start(boat: Boat) -> None:
    boat.battery("G2", chemistry="flooded", capacity_ah=70, cranking_a=650, max_charge_v=14.8,
                 duty="start")
    boat.switch("Q2", rated_continuous_a=200, rated_cranking_a=600, role="bank")
    boat.part("M1", "starter", cranking_a=180)
    _plus(boat, "W30", "G2.+", "Q2.a", "50 mm2", 0.8)
    _plus(boat, "W31", "Q2.b", "M1.+", "50 mm2", 1.5)
    boat.switch("Q3", "emergency_link", rated_continuous_a=200)
    _plus(boat, "W50", "Q1.b", "Q3.a", "50 mm2", 0.5)
    _plus(boat, "W51", "Q3.b", "Q2.b", "50 mm2", 0.5)
    _minus(boat, "W130", "G2.-", "X2.s4", "50 mm2")
    _minus(boat, "W131", "M1.-", "X2.s5", "50 mm2")


def _charging(boat: Boat) -> None:
    boat.part("T1", "shore_charger", rated_a=30, **SHORE)
    mains(boat, "W20", "T1.ac")
    boat.fuse("F3", 40, **DEVICE)
    _plus(boat, "W11", "G1.+", "F3.a", "10 mm2")
    _plus(boat, "W12", "F3.b", "T1.1+", "10 mm2", 3)
    _minus(boat, "W112", "T1.-", "X2.s6", "10 mm2")
    boat.part("G5", "alternator", rated_a=90, **ALTERNATOR).fuse("F5", 150, **DEVICE)
    _plus(boat, "W33", "G1.+", "F5.a", "50 mm2")
    _plus(boat, "W32", "F5.b", "G5.+", "50 mm2", 4)
    _minus(boat, "W133", "G5.-", "X2.s7", "50 mm2")
    boat.part("K1", "voltage_sensing_relay", rated_a=100, **RELAY)
    boat.fuse("F6", 100, **DEVICE).fuse("F7", 100, **DEVICE)
    _plus(boat, "W40", "G1.+", "F6.a", "35 mm2")
    _plus(boat, "W41", "F6.b", "K1.a", "35 mm2", 1)
    _plus(boat, "W42", "K1.b", "F7.a", "35 mm2", 1)
    _plus(boat, "W43", "F7.b", "G2.+", "35 mm2")
    _minus(boat, "W140", "K1.-", "X2.s8", "2.5 mm2")
    _minus(boat, "N99", "X2.s12", "E99.n", "50 mm2")


def two_voltages() -> Diagram:
    """Return a boat of 24 V and 12 V whose forward bar X9 takes the returns of windlass M3 (24 V)
    and thruster M4 (12 V) home over W190; nothing to say of it."""
    boat = Boat("us", 24, returns="drawn", negative_datum="X2.s1")
    boat.system("S2", 12, returns="drawn", negative_datum="X2.s1")
    boat.busbar("X2", pole="-", stud_count=8, rated_a=500)
    boat.busbar("X9", pole="-", stud_count=4, rated_a=500)
    for place, series in ((1, 2), (2, 1)):
        motor = {1: "windlass", 2: "thruster"}[place]
        boat.battery(f"G{place}", chemistry="agm", capacity_ah=200, series_count=series,
                     max_charge_v=14.6 * series, cranking_a=1200)
        boat.fuse(f"F{place}", 200, **DEVICE).switch(f"Q{place}", rated_continuous_a=300)
        boat.load(f"M{place + 2}", motor, current_a={1: 95, 2: 45}[place],
                  stop_within_reach=f"Q{place}")
        _plus(boat, f"W{place}1", f"G{place}.+", f"F{place}.a", "50 mm2")
        _plus(boat, f"W{place}2", f"F{place}.b", f"Q{place}.a", "50 mm2", 0.5)
        _plus(boat, f"W{place}3", f"Q{place}.b", f"M{place + 2}.+", "50 mm2", 1)
        _minus(boat, f"W{place}4", f"M{place + 2}.-", f"X9.s{place}", "50 mm2")
        _minus(boat, f"W{place}5", f"G{place}.-", f"X2.s{place}", "50 mm2")
        facts = {1: {**CHARGER_24, "case_terminal": False}, 2: SHORE}[place]
        boat.part(f"T{place}", "shore_charger", rated_a=30, **facts)
        boat.fuse(f"F{place}6", 40, **DEVICE)
        _plus(boat, f"W{place}7", f"G{place}.+", f"F{place}6.a", "10 mm2")
        _plus(boat, f"W{place}8", f"F{place}6.b", f"T{place}.1+", "10 mm2", 2)
        _minus(boat, f"W{place}9", f"T{place}.-", f"X2.s{place + 3}", "10 mm2")
    mains(boat, "W16", "T1.ac", "T2.ac")
    _minus(boat, "W190", "X9.s3", "X2.s3", "50 mm2")
    _minus(boat, "N99", "X2.s8", "E99.n", "50 mm2")
    return boat.diagram()


BASES = {"shunted": shunted, "two_voltages": two_voltages}
