"""A common negative: drawn, implied, or missing."""

from __future__ import annotations

from model.analysis.common_negative import share_negative
from model.survey import Survey
from tests.boat_builder import Boat

MINUS = {"cores": ("-",)}


def shares(boat: Boat) -> bool:
    return share_negative(Survey(boat.diagram()), "G1", "G2")


def two(returns: str = "implied") -> Boat:
    return Boat(returns=returns).battery("G1").battery("G2").busbar("X2", pole="-")


def test_implied_negatives_are_joined() -> None:
    assert shares(two())
    assert shares(two().wire("N1", "G1.-", "X2.s1", **MINUS))


def test_where_returns_are_drawn_a_bare_minus_shares_nothing() -> None:
    assert not shares(two("drawn"))
    assert shares(two("drawn").wire("N1", "G1.-", "G2.-", **MINUS))


def test_two_drawn_negatives_that_never_meet_are_apart() -> None:
    apart = two().wire("N1", "G1.-", "X2.s1", **MINUS).load("E1").wire(
        "N2", "G2.-", "E1.-", **MINUS)
    assert not shares(apart)
    assert shares(apart.wire("N3", "E1.-", "X2.s2", **MINUS))


def test_of_a_series_the_lowest_minus_counts() -> None:
    series = two("drawn").battery("G3").wire("N1", "G1.-", "G3.+", purpose="bank_link")
    assert not shares(series)
    assert shares(series.wire("N2", "G3.-", "X2.s1", **MINUS).wire("N3", "G2.-", "X2.s2", **MINUS))
