"""An alternator at a start battery that takes little more, with a DC-DC charger behind it."""

from __future__ import annotations

from typing import Any

from tests.boat_builder import Boat


def charged_from_the_engine(lead: str = "35 mm2", length_m: float = 1, **charger: Any) -> Boat:
    """90 A of alternator G3 at G1, which takes 18 A; T1 gives 30 A to G2 over this lead."""
    return (
        Boat().battery("G1", internal_resistance_ohm=0.005, rest_v=12.7, max_charge_a=18)
        .battery("G2", internal_resistance_ohm=0.002, rest_v=12.8, max_charge_a=120)
        .part("M1", "engine_block")
        .part("G3", "alternator", rated_a=90, set_v=14.4, driven_by="M1")
        .part("T1", "dc_dc_charger", rated_output_a=30, input_v=12, absorption_v=14.4,
              efficiency=0.9, **charger)
        .wire("W1", "G3.+", "G1.+", "35 mm2", length_m=1)
        .wire("W2", "G1.+", "T1.in+", lead, length_m=length_m)
        .wire("W3", "T1.out+", "G2.+", "35 mm2", length_m=1)
    )
