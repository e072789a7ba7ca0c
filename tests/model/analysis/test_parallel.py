"""Parallel cables: what lies side by side and what only looks so."""

from __future__ import annotations

from model.survey import Survey
from tests.boat_builder import Boat


def sets(boat: Boat) -> list[tuple[str, ...]]:
    return [cables.conductors for cables in Survey(boat.diagram()).parallel_cables]


def pair() -> Boat:
    return Boat().battery("G1").busbar("X1").wire("W1", "G1.+", "X1.s1").wire("W2", "X1.s2", "G1.+")


def test_two_cables_to_two_studs_of_one_bar_are_parallel_whichever_way_drawn() -> None:
    assert sets(pair()) == [("W1", "W2")]


def test_a_sense_wire_beside_a_cable_is_not() -> None:
    assert sets(pair().wire("W2", "X1.s2", "G1.+", purpose="sense")) == []


def test_a_cable_behind_a_fuse_of_its_own_is_not() -> None:
    boat = pair().fuse("F1").wire("W2", "X1.s2", "F1.b").wire("W3", "F1.a", "G1.+")
    assert sets(boat) == []


def test_the_two_cores_of_a_pair_are_not() -> None:
    boat = Boat().fuse("F1").load("E1").wire("W1", "F1.b", "E1.+", cores=("+", "-"))
    assert sets(boat) == []
