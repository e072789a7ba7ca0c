"""Skimmel, 6 m open day boat with an outboard and one battery; 12 V, returns not drawn.

Planted: a metal petrol tank without a bond (7.13); a tracker that drains the battery in the weeks
the boat lies idle (5.13). It is kept on a trailer and can be started by hand.
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.fittings import alternator, bilge, branch, house
from tests.boats.yard import Yard


def skimmel() -> Diagram:
    """Return the boat."""
    yard = Yard("us")
    yard.boat(name="Skimmel", length_m=6, hull="grp", kept="trailer", weeks_idle=4,
              aboard=("hand_start", "handheld_radio"))
    house(yard, capacity_ah=100, duty="dual", cranking_a=700, internal_resistance_ohm=0.005)
    yard.part("M2", "engine_block", fuel="petrol", type="outboard", hand_start=True,
              stop="mechanical", runs_without_power=True)
    yard.part("M1", "starter", cranking_a=120, driven_by="M2", mounted_on="M2", return_by="case")
    yard.plus("B1", "Q1.b", "M1.+", "35 mm2", 2, sheath="whole")
    alternator(yard, "G5", 5, "G1.+", "M2", rated_a=15)
    bilge(yard, start="X1.s11")
    branch(yard, 31, "lamp", 1)
    yard.load("E9", "tracker", role="tracker", current_a=0.1, stays_live=True)
    yard.fused(9, "G1.+", "E9.+", 3, "2.5 mm2", 2)
    yard.part("X7", "fuel_tank", fuel="petrol", metal=True)
    return yard.diagram()
