"""Boats that cases on overcurrent protection start from."""

from __future__ import annotations

from typing import Any

from model.diagram import Diagram
from tests.boat_builder import Boat
from tests.rules.charging_facts import ALTERNATOR

DRY = {"insulation_c": 105, "engine_space_m": 0, "colour": "red"}
HERE: dict[str, Any] = {"place": "PL1", "ignition_protected": True}
DEVICE = {"rated_dc_v": 58, "interrupt_a": 10000}


def petrol() -> Diagram:
    """Return a 12 V boat whose switch, fuses, bar, panel, engine and pump share the petrol
    engine's space; all of it is ignition protected."""
    boat = Boat("us").battery("G1", chemistry="agm", capacity_ah=100, cranking_a=600,
                              max_charge_v=14.6)
    boat.part("M1", "engine_block", fuel="petrol", type="inboard", place="PL1")
    boat.part("G5", "alternator", rated_a=50, driven_by="M1", **HERE, **ALTERNATOR)
    boat.fuse("F1", 100, **DEVICE, **HERE).busbar("X1", place="PL1")
    boat.switch("Q1", remote="with_override", **HERE)
    boat.fuse("F2", 15, **DEVICE, **HERE).fuse("F5", 80, **DEVICE, **HERE)
    boat.load("E1", "pump", current_a=6, **HERE).load("E2", "lamp", current_a=2)
    boat.panel("P1", {"rated_a": 5, **DEVICE}, **HERE)
    boat.wire("W1", "G1.+", "F1.a", "35 mm2", length_m=0.15, **DRY)
    boat.wire("W2", "F1.b", "Q1.a", "35 mm2", length_m=0.5, **DRY)
    boat.wire("W3", "Q1.b", "X1.s1", "35 mm2", length_m=0.5, **DRY)
    boat.wire("W4", "X1.s2", "F2.a", "4 mm2", length_m=0.1, **DRY)
    boat.wire("W5", "F2.b", "E1.+", "4 mm2", length_m=3, **DRY)
    boat.wire("W6", "X1.s3", "P1.in", "35 mm2", length_m=1, **DRY)
    boat.wire("W7", "P1.w1", "E2.+", "2.5 mm2", length_m=4, **DRY)
    boat.wire("W8", "G1.+", "F5.a", "25 mm2", length_m=0.15, **DRY)
    boat.wire("W9", "F5.b", "G5.+", "25 mm2", length_m=2, **DRY)
    return boat.place("PL1", "petrol_engine_space", "engine box").diagram()


OVERCURRENT_BASES = {"petrol": petrol}
