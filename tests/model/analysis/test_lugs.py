"""Lugs: what shares a bolt, and how many of it there are."""

from __future__ import annotations

from model.survey import Survey
from tests.boat_builder import Boat


def counted(boat: Boat) -> dict[str, int]:
    return {bolt.name: bolt.count for bolt in Survey(boat.diagram()).bolts}


def test_every_end_counts_on_its_own_stud_and_parallel_cables_each() -> None:
    boat = Boat().battery("G1").busbar("X1").load("E1")
    boat.wire("W1", "G1.+", "X1.s1", parallel_count=2).wire("W2", "X1.s1", "E1.+")
    assert counted(boat) == {"G1.+": 2, "X1.s1": 3, "E1.+": 1}


def test_an_engine_block_has_its_bolts_apart_although_they_are_one_terminal() -> None:
    boat = Boat().battery("G1").part("M1", "engine_block").busbar("X2", pole="-")
    boat.wire("N1", "G1.-", "M1.n1", cores=("-",)).wire("N2", "X2.s1", "M1.n2", cores=("-",))
    assert {name: n for name, n in counted(boat).items() if name.startswith("M1")} == {
        "M1.n1": 1, "M1.n2": 1}


def test_the_cores_of_a_pair_end_on_two_terminals() -> None:
    boat = Boat().fuse("F1").load("E1").wire("W1", "F1.b", "E1.+", cores=("+", "-"))
    assert {"E1.+": 1, "E1.-": 1}.items() <= counted(boat).items()
