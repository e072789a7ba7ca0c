"""Patchwick, 9 m old boat of many rewires, 12 V, of which little is written down.

Planted, and certain in spite of the gaps: shore power to a
charger with no breaker (9.1) and nothing that trips on a leak (9.2); pump and water alarm on one
fuse (10.3); a float switch in the negative (10.11). All else must be asked for, not guessed: the
panel straight on the battery would be a trickle for a bank of more than 600 Ah.
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.yard import Yard


def patchwick() -> Diagram:
    """Return the boat."""
    yard = Yard("iso")
    yard.boat(name="Patchwick")
    yard.part("G1", "battery_bank", block_nominal_v=12)
    yard.fuse("F1").switch("Q1").busbar("X1", stud_count=8)
    yard.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "Q1.a").wire("W3", "Q1.b", "X1.s1")
    yard.fuse("F2").load("E1", "lamp")
    yard.wire("W4", "X1.s2", "F2.a").wire("W5", "F2.b", "E1.+")
    yard.part("G6", "solar_array", panel_w=100, panel_isc_a=6, series_count=1, parallel_count=1)
    yard.fuse("F6", 15)
    yard.wire("W6", "G1.+", "F6.a").wire("W7", "F6.b", "G6.+")
    yard.part("G9", "shore_inlet").part("T1", "shore_charger").fuse("F8")
    yard.wire("A1", "G9.ac", "T1.ac", cores=("L", "N", "E"))
    yard.wire("W8", "G1.+", "F8.a").wire("W9", "F8.b", "T1.1+")
    yard.fuse("F20").load("E20", "bilge_pump", role="bilge_pump_automatic")
    yard.part("B9", "alarm", role="water_alarm", own_battery=False)
    yard.part("S9", "float_switch", switched_pole="-", auto_independent_of_manual=True)
    yard.wire("W10", "G1.+", "F20.a").wire("W11", "F20.b", "E20.+").wire("W12", "F20.b", "B9.+")
    return yard.diagram()
