"""Shore power of test boats: a breaker by the book at the inlet, and what hangs on it."""

from __future__ import annotations

from typing import Any

from tests.boat_builder import Boat

CORES = ("L", "N", "E")
CABLE: dict[str, Any] = {"cores": CORES, "sheath": "whole", "insulation_c": 105,
                         "engine_space_m": 0, "label_printed": "both_ends"}


def mains(boat: Boat, wire: str, *consumers: str) -> Boat:
    """Add the inlet G9 with the residual-current breaker F77 close to it, and cables from there.

    `wire` is the cable to the breaker; the cables to consumers are W771, W772 ...
    """
    boat.part("G9", "shore_inlet", rated_a=16, nominal_v=230)
    boat.part("F77", "residual_current_breaker", rated_a=16, poles_opened="L_and_N",
              residual_ma=30)
    boat.wire(wire, "G9.ac", "F77.a", "2.5 mm2", length_m=0.9, **CABLE)
    boat.part("E99", "earth_plate")
    boat.wire("W770", "F77.b", "E99.n", "6 mm2", cores=("E",), length_m=3, purpose="bonding",
              colour="green", insulation_c=105, engine_space_m=0, label_printed="both_ends")
    for number, to in enumerate(consumers, start=771):
        boat.wire(f"W{number}", "F77.b", to, "2.5 mm2", length_m=2, **CABLE)
    return boat
