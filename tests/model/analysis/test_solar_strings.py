"""Solar strings side by side."""

from __future__ import annotations

from model.analysis.solar_strings import solar_strings
from model.survey import Survey
from tests.boat_builder import Boat


def test_arrays_on_one_bar_are_one_group_and_drive_current_back() -> None:
    boat = Boat().busbar("X1")
    for number in (1, 2, 3):
        boat.part(f"G{number}", "solar_array", panel_isc_a=6, max_series_fuse_a=10 + number)
        boat.wire(f"W{number}", f"G{number}.+", f"X1.s{number}")
    (group,) = solar_strings(Survey(boat.diagram()).graph)
    assert (group.arrays, group.unfused_count, group.most_a) == (("G1", "G2", "G3"), 3, 11)
    assert group.back_a == 12


def test_a_fuse_between_them_parts_them() -> None:
    boat = Boat().busbar("X1").fuse("F1", 10).part("G1", "solar_array").part("G2", "solar_array")
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "X1.s1").wire("W3", "G2.+", "X1.s2")
    assert len(list(solar_strings(Survey(boat.diagram()).graph))) == 2
