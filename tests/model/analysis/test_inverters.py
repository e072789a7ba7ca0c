"""What feeds an inverter."""

from __future__ import annotations

from model.analysis.inverters import inverter_feeds
from model.survey import Survey
from tests.boat_builder import Boat


def test_the_smallest_device_before_it_and_the_conductors_behind_that() -> None:
    boat = Boat().battery("G1").fuse("F1", 400).busbar("X1").fuse("F2", 250)
    boat.part("T1", "inverter", rated_w=2000, min_dc_v=10.5)
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "X1.s1").wire("W3", "X1.s2", "F2.a")
    boat.wire("W4", "F2.b", "T1.+")
    (feed,) = inverter_feeds(Survey(boat.diagram()))
    assert (feed.device, feed.rated_a, feed.conductors) == ("F2", 250, ("W4",))
    assert (feed.rated_w, feed.lowest_v, feed.nominal_v) == (2000, 10.5, 12)


def test_an_inverter_that_nothing_feeds_is_left_out() -> None:
    assert list(inverter_feeds(Survey(Boat().part("T1", "inverter").diagram()))) == []
