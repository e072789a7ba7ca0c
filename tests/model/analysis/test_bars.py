"""Bars with the largest device before or on them and their largest current."""

from __future__ import annotations

import pytest

from model.analysis.bars import bars
from model.survey import Survey
from tests.boat_builder import Boat

BANK = {"internal_resistance_ohm": 0.005, "rest_v": 12.6}


def test_the_device_before_a_bar_counts_and_its_feed_carries_the_sum() -> None:
    boat = Boat().battery("G1", **BANK).fuse("F1", 200).busbar("X1", rated_a=150)
    boat.fuse("F2", 30).load("E1", current_a=10, nominal_v=12)
    boat.load("E2", current_a=5, nominal_v=12)
    boat.wire("W1", "G1.+", "F1.a", "35 mm2", length_m=0.1)
    boat.wire("W2", "F1.b", "X1.s1", "35 mm2", length_m=0.5)
    boat.wire("W3", "X1.s2", "F2.a", "6 mm2", length_m=0.1)
    boat.wire("W4", "F2.b", "E1.+", "6 mm2", length_m=1)
    boat.wire("W5", "X1.s3", "E2.+", "6 mm2", length_m=1)
    (bar,) = bars(Survey(boat.diagram()))
    assert (bar.id, bar.rated_a, bar.device, bar.device_a) == ("X1", 150, "F1", 200)
    assert bar.current_a == pytest.approx(15, rel=1e-4)


def test_a_bar_without_a_device_before_it_has_the_largest_on_it() -> None:
    boat = Boat().battery("G1", **BANK).busbar("X1").fuse("F2", 30)
    boat.wire("W1", "G1.+", "X1.s1", "35 mm2", length_m=0.1)
    boat.wire("W2", "X1.s2", "F2.a", "6 mm2", length_m=0.1)
    (bar,) = bars(Survey(boat.diagram()))
    assert (bar.device, bar.device_a) == ("F2", 30)


def test_a_negative_bar_is_not_told() -> None:
    boat = Boat().battery("G1").busbar("X1", pole="-")
    boat.wire("W1", "G1.-", "X1.s1", cores=("-",))
    assert list(bars(Survey(boat.diagram()))) == []
