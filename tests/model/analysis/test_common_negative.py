"""A common negative: drawn, implied, or missing."""

from __future__ import annotations

from model.analysis.common_negative import share_negative
from model.survey import Survey
from tests.boat_builder import Boat

MINUS = {"cores": ("-",)}


def shares(boat: Boat) -> bool:
    return share_negative(Survey(boat.diagram()), "G1", "G2")


def two(returns: str = "implied", **system: str) -> Boat:
    return Boat(returns=returns, **system).battery("G1").battery("G2").busbar("X2", pole="-")


def test_implied_negatives_meet_at_the_datum() -> None:
    assert shares(two())


def test_where_returns_are_drawn_a_bare_minus_shares_nothing() -> None:
    assert not shares(two("drawn"))
    assert shares(two("drawn").wire("N1", "G1.-", "G2.-", **MINUS))


def test_one_drawn_negative_meets_the_implied_one_at_the_datum() -> None:
    drawn = two(negative_datum="X2.s1").wire("N1", "G1.-", "X2.s1", **MINUS)
    assert shares(drawn)
    apart = two(negative_datum="X2.s1").load("E1").wire("N1", "G1.-", "E1.-", **MINUS)
    assert not shares(apart)
