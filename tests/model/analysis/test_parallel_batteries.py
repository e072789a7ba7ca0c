"""Batteries side by side without a device between them."""

from __future__ import annotations

from model.analysis.parallel_batteries import SideBySide, side_by_side
from model.survey import Survey
from tests.boat_builder import Boat


def groups(boat: Boat) -> tuple[SideBySide, ...]:
    survey = Survey(boat.diagram())
    return side_by_side(survey.graph, survey.zones)


def test_batteries_joined_by_a_link_are_one_group() -> None:
    boat = Boat().battery("G1", chemistry="lfp").battery("G2", chemistry="lfp")
    boat.wire("W1", "G1.+", "G2.+", purpose="bank_link")
    (group,) = groups(boat)
    assert (group.batteries, group.unfused_count, group.is_lithium) == (("G1", "G2"), 2, True)


def test_batteries_in_series_are_not() -> None:
    boat = Boat().battery("G1").battery("G2").wire("W1", "G1.+", "G2.-", purpose="bank_link")
    assert [group.unfused_count for group in groups(boat)] == [1, 1]


def test_a_device_between_them_parts_them() -> None:
    boat = Boat().battery("G1").battery("G2").fuse("F1", 100)
    boat.wire("W1", "G1.+", "F1.a", purpose="bank_link")
    boat.wire("W2", "F1.b", "G2.+", purpose="bank_link")
    assert len(groups(boat)) == 2


def test_strings_of_one_part_count_by_what_is_said_of_their_fuses() -> None:
    (said,) = groups(Boat().battery("G1", parallel_count=3, block_fuses="none"))
    (fused,) = groups(Boat().battery("G1", parallel_count=3, block_fuses="each"))
    (unsaid,) = groups(Boat().battery("G1", parallel_count=3))
    assert (said.unfused_count, fused.unfused_count, unsaid.unsaid) == (3, 0, ("G1",))
