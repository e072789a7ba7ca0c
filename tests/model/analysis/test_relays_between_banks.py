"""Relays between banks: sides, what charges each, and what is no relay between banks."""

from __future__ import annotations

from model.analysis.relays_between_banks import relays_between, side_v
from model.survey import Survey
from tests.boat_builder import Boat


def relayed() -> Boat:
    boat = Boat().battery("G1").battery("G2").part("K1", "voltage_sensing_relay")
    boat.part("G5", "alternator").wire("W1", "G5.+", "G1.+").wire("W2", "G1.+", "K1.a")
    return boat.wire("W3", "K1.b", "G2.+")


def test_each_side_has_its_batteries_and_what_charges_them() -> None:
    (found,) = relays_between(Survey(relayed().diagram()).graph)
    assert [side.batteries for side in found.sides] == [{"G1"}, {"G2"}]
    assert [[out.source for out in side.charging] for side in found.sides] == [["G5"], []]


def test_a_relay_that_is_bridged_or_leads_nowhere_is_none() -> None:
    assert relays_between(Survey(relayed().wire("W4", "G1.+", "G2.+").diagram()).graph) == ()
    bare = Boat().battery("G1").part("K1", "voltage_sensing_relay").wire("W2", "G1.+", "K1.a")
    assert relays_between(Survey(bare.diagram()).graph) == ()


def test_the_volts_of_a_side_are_those_of_its_posts() -> None:
    boat = relayed().battery("G1", series_count=2).part("G2", "battery_bank")
    graph = Survey(boat.diagram()).graph
    (found,) = relays_between(graph)
    assert [side_v(graph, side) for side in found.sides] == [24, 12]  # 2 x 12; 12 not stated
