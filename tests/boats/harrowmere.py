"""Harrowmere, 16 m motor trawler of 24 V with two engines and a generating set; returns not drawn.

Planted: the bilge pump behind the house switch (10.1); engines joined by 35 mm2 though one cranks
from the other's battery with 95 mm2 (7.9); the generating set on the shore bus over a breaker of
its own (9.6), bonded at its frame (9.4), with no warning (12.5); a single-pole way in a supply of
unknown polarity (9.11).
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.fittings import alternator, bilge, branch, charger, house, shore, starting
from tests.boats.yard import Yard


def harrowmere() -> Diagram:
    """Return the boat."""
    yard = Yard("us", nominal_v=24)
    yard.boat(name="Harrowmere", length_m=16, hull="grp", kept="afloat", shore_nominal_v=230,
              shore_polarity_assured=False)
    house(yard, 24)
    bilge(yard, 24, "X1.s11")
    branch(yard, 31, "lamp", 3)
    branch(yard, 32, "refrigerator", 4)
    starting(yard, 2, 24, "M2", "M1")
    starting(yard, 3, 24, "M4", "M3")
    yard.switch("Q5", "emergency_link", rated_continuous_a=300, rated_cranking_a=1000, rated_v=60,
                role="emergency_link", normal="open", poles="+")
    yard.plus("B50", "Q2.b", "Q5.a", "95 mm2", 1, sheath="whole")
    yard.plus("B51", "Q5.b", "Q3.b", "95 mm2", 1, sheath="whole")
    yard.minus("N1", "M2.n2", "M4.n2", "35 mm2", 2, engine_space_m=2)
    alternator(yard, "G5", 5, "G2.+", "M2", 24)
    alternator(yard, "G6", 6, "G3.+", "M4", 24)
    _alternating(yard)
    return yard.diagram()


def _alternating(yard: Yard) -> None:
    charger(yard, volts=24)
    shore(yard, "T1.ac")
    yard.part("G8", "generating_set", rated_w=4000, breaker_built_in=True, neutral_bond="at_frame")
    yard.part("F78", "ac_breaker", rated_a=16, rated_ac_v=230, poles_opened="L_and_N",
              residual_ma=0)
    yard.shore("A20", "G8.ac", "F78.a", 0.4)
    yard.shore("A21", "F78.b", "F77.b", 1)
    yard.part("P8", "ac_panel", dc_parts_in_box="none", ways=(
        {"id": "w1", "device": "breaker", "rated_a": 10, "poles": "+", "label": "socket",
         "residual_ma": 0},
        {"id": "w2", "device": "breaker", "rated_a": 10, "poles": "both", "label": "heater",
         "residual_ma": 0}))
    yard.shore("A22", "F77.b", "P8.in", 1)
    yard.part("E61", "ac_socket", double_insulated=True, ground_fault_ma=5)
    yard.part("E62", "ac_load", rated_w=1500, heater=True, double_insulated=False, name="heater")
    yard.shore("A23", "P8.w1", "E61.ac", 3)
    yard.shore("A24", "P8.w2", "E62.ac", 3)
