"""The negative between batteries: the widest of several ways counts."""

from __future__ import annotations

import pytest

from model.analysis.negative_tie import copper_mm2, widest_tie
from model.graph import TerminalGraph
from tests.boat_builder import Boat

MINUS = {"cores": ("-",)}


def boat() -> Boat:
    return Boat(returns="drawn").battery("G1").battery("G2").busbar("X2", pole="-")


def test_the_wider_of_two_ways_is_told() -> None:
    made = (boat().wire("W1", "G1.-", "G2.-", "10 mm2", **MINUS)
            .wire("W2", "G1.-", "X2.s1", "50 mm2", **MINUS)
            .wire("W3", "X2.s2", "G2.-", "35 mm2", **MINUS))
    assert widest_tie(TerminalGraph(made.diagram()), ["G1"], ["G2"]) == ("W2", "W3")


def test_no_way_and_nothing_drawn_tell_nothing() -> None:
    apart = boat().wire("W2", "G1.-", "X2.s1", "50 mm2", **MINUS)
    assert widest_tie(TerminalGraph(apart.diagram()), ["G1"], ["G2"]) == ()


def test_equals_side_by_side_add_up() -> None:
    made = boat().wire("W1", "G1.-", "G2.-", "10 mm2", parallel_count=2, **MINUS).diagram()
    assert copper_mm2(made.conductors["W1"]) == pytest.approx(20)


def test_of_several_batteries_the_pair_that_is_joined_best_is_told() -> None:
    made = (boat().battery("G3").wire("W1", "G1.-", "G2.-", "10 mm2", **MINUS)
            .wire("W2", "G3.-", "G2.-", "50 mm2", **MINUS))
    assert widest_tie(TerminalGraph(made.diagram()), ["G1", "G3"], ["G2"]) == ("W2",)
