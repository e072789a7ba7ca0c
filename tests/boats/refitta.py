"""Refitta, 11 m sloop changed over to lithium behind its old charging gear; returns not drawn.

Planted: the stock alternator charges the lithium directly (6.3) and is left alone when the
management opens (6.2); nothing sounds before it does (6.4); it may be charged in the cold (6.9);
two packs without a fuse each (6.17); the radio hangs on it alone (6.5); the charger is set above
its limit (3.4); charger and alternator together are too much (6.7); nothing charges the start
battery any more (3.1).
"""

from __future__ import annotations

from model.diagram import Diagram
from tests.boats.fittings import alternator, bilge, branch, charger, house, shore, starting
from tests.boats.yard import Yard


def refitta() -> Diagram:
    """Return the boat."""
    yard = Yard("us")
    yard.boat(name="Refitta", length_m=11, hull="grp", kept="afloat", shore_nominal_v=230,
              lowest_temperature_c=2, aboard=("handheld_radio",))
    house(yard, chemistry="lfp", cranking_a=0, parallel_count=2, max_in_parallel=4,
          block_fuses="none", management="internal", alarm="none", reports_state_of_charge=True,
          cold_charge_cutoff=False, heated=False, rest_v=13.3, max_charge_a=100,
          max_discharge_a=300)
    bilge(yard)
    branch(yard, 31, "lamp", 3)
    branch(yard, 32, "radio", 5, rated_a=10)
    starting(yard)
    alternator(yard, "G5", 5, "G1.+", "M2")
    charger(yard, absorption_v=14.8)
    shore(yard, "T1.ac")
    return yard.diagram()
