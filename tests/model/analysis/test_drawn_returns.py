"""Drawn returns: which conductors are a part's own, and what is missing."""

from __future__ import annotations

from model.survey import Survey
from tests.boat_builder import Boat
from tests.rules.bases_conductors import drawn


def by_item(boat: Boat) -> dict[str, tuple[tuple[str, ...], bool]]:
    return {back.item: (back.conductors, back.is_missing)
            for back in Survey(boat.diagram()).drawn_returns}


def fed(**system: str) -> Boat:
    return (Boat(**system).battery("G1").fuse("F1", 10).load("E1")
            .wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "E1.+"))


def test_a_bare_minus_is_missing_only_where_returns_are_drawn() -> None:
    assert by_item(fed(returns="drawn")) == {"E1": ((), True), "G1": ((), True)}
    assert by_item(fed()) == {}


def test_a_drawn_return_is_followed_to_the_first_branch() -> None:
    boat = fed().part("X1", "stud", pole="-").part("X2", "busbar", pole="-")
    boat.wire("N1", "E1.-", "X1.s", cores=("-",)).wire("N2", "X1.s", "X2.s1", cores=("-",))
    boat.wire("N3", "X2.s2", "G1.-", cores=("-",)).load("E2")
    boat.wire("N4", "E2.-", "X2.s3", cores=("-",))
    assert by_item(boat) == {"E1": (("N1", "N2"), False)}


def test_a_return_through_the_mounting_needs_no_conductor() -> None:
    boat = fed(returns="drawn").part("M1", "engine_block")
    boat.load("E1", mounted_on="M1", return_by="case")
    assert by_item(boat) == {"G1": ((), True)}


def test_a_battery_s_return_is_missing_from_where_its_negative_ends() -> None:
    boat = fed(returns="drawn").part("B1", "shunt").wire("N1", "G1.-", "B1.a", cores=("-",))
    missing = {back.item: back.terminal for back in Survey(boat.diagram()).drawn_returns
               if back.is_missing}
    assert missing == {"E1": "E1.-", "G1": "B1.b"}
    boat.wire("N2", "B1.b", "E1.-", cores=("-",))
    assert not any(back.is_missing for back in Survey(boat.diagram()).drawn_returns)


def test_on_a_whole_boat_the_common_return_is_nobodys_own() -> None:
    found = {back.item: back.conductors for back in Survey(drawn()).drawn_returns}
    assert found == {"E1": ("N5",), "E2": ("N7",), "E3": ("N8",), "P1": ("N6",)}
