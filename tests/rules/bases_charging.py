"""Boats that the cases on charging start from beside the tidy one."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from model.diagram import Diagram
from model.edits import apply, setting
from tests.boat_builder import Boat
from tests.rules.charging_facts import ALTERNATOR, CHARGER, MANAGED

Base = Callable[[], Diagram]
DRY = {"insulation_c": 105, "engine_space_m": 0, "colour": "red"}
NEAR = {**DRY, "length_m": 0.15}
DEVICE = {"rated_dc_v": 58, "interrupt_a": 10000}


def bases(tidy: Base) -> dict[str, Base]:
    """Return the boats by name; all but the last are made from the tidy one."""
    return {"sunny": lambda: sunny(tidy()), "regulated": lambda: regulated(tidy()),
            "windy": lambda: windy(tidy()), "converted": converted}


def run(length_m: float) -> dict[str, Any]:
    """Return the fields of a conductor of that length whose ampacity is fully known."""
    return {**DRY, "length_m": length_m}


def added(diagram: Diagram, boat: Boat) -> Diagram:
    """Return a diagram with the parts and conductors of a boat being built."""
    made = boat._items
    return apply(diagram, setting(
        diagram, "case", *made["components"].values(), *made["conductors"].values()))


def sunny(diagram: Diagram) -> Diagram:
    """Return a boat with two panels in series, G6, whose controller T2 charges the house bank."""
    boat = Boat().part("G6", "solar_array", panel_w=100, series_count=2, panel_voc_v=22,
                       panel_vmp_v=18, panel_isc_a=6, parallel_count=1)
    boat.part("T2", "solar_controller", type="mppt", rated_output_a=20, max_input_v=100,
              max_input_a=15, **CHARGER)
    boat.wire("W64", "G6.+", "T2.pv+", "4 mm2", **run(5))
    boat.fuse("F13", 30, **DEVICE)
    boat.wire("W62", "G1.+", "F13.a", "10 mm2", **NEAR)
    boat.wire("W63", "F13.b", "T2.out+", "10 mm2", **run(2))
    return added(diagram, boat)


def regulated(diagram: Diagram) -> Diagram:
    """Return a boat whose alternator has an external regulator A5 that senses at the house bank."""
    boat = Boat().part("A5", "regulator", regulates="G5", absorption_v=14.4, float_v=13.3,
                       temperature_sensor=True, shares_control=True)
    boat.part("G5", "alternator", rated_a=75, nominal_v=12, regulation="external", regulator="A5")
    boat.fuse("F16", 5, **DEVICE)
    boat.wire("W71", "G1.+", "F16.a", "1.5 mm2", purpose="sense", **NEAR)
    boat.wire("W72", "F16.b", "A5.sense", "1.5 mm2", purpose="sense", **run(3))
    return added(diagram, boat)


def windy(diagram: Diagram) -> Diagram:
    """Return a boat with a wind generator G7 whose controller T7 charges the house bank."""
    boat = Boat().part("G7", "wind_generator", rated_a=15, nominal_v=12, regulation="controller",
                       stop_by="short_switch", dump_load=True)
    boat.part("T7", "wind_controller", rated_output_a=15, output_v=12, absorption_v=14.4,
              float_v=13.3)
    boat.wire("W65", "G7.+", "T7.in+", "10 mm2", **run(3))
    boat.fuse("F14", 30, **DEVICE)
    boat.wire("W66", "G1.+", "F14.a", "10 mm2", **NEAR)
    boat.wire("W67", "F14.b", "T7.out+", "10 mm2", **run(2))
    return added(diagram, boat)


def converted() -> Diagram:
    """Return a 12 V boat whose alternator charges the start bank G2, and whose lithium house bank
    G1 is charged from there by the converter T5 while the engine runs.
    """
    boat = Boat("us").battery("G1", chemistry="lfp", capacity_ah=200, max_charge_v=14.4,
                              internal_resistance_ohm=0.002, **MANAGED)
    boat.fuse("F1", 200, **DEVICE).switch("Q1").load("E1", current_a=20)
    boat.wire("W1", "G1.+", "F1.a", "70 mm2", **NEAR).wire("W2", "F1.b", "Q1.a", "70 mm2", **run(1))
    boat.wire("W3", "Q1.b", "E1.+", "70 mm2", **run(2))
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
    for n, at, to in ((6, "G2.+", "T5.in+"), (7, "G1.+", "T5.out+")):
        boat.fuse(f"F{n}", 60, **DEVICE)
        boat.wire(f"W{n}1", at, f"F{n}.a", "25 mm2", **NEAR)
        boat.wire(f"W{n}2", f"F{n}.b", to, "25 mm2", **run(2))
    return boat.boat(aboard=("jump_pack",)).diagram()


