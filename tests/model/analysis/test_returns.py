"""Implied returns mirror the feed, feeders too: 12 m and 4 m drop like 32 m."""

from __future__ import annotations

from model.analysis.returns import loop_length_m, shadow_edges
from model.survey import Survey
from tests.boat_builder import Boat


def feeder_and_branch(**load: object) -> Boat:
    return (
        Boat().battery("G1").panel("P1", {"rated_a": 10}).load("E1", **load)
        .wire("W1", "G1.+", "P1.in", length_m=12).wire("W2", "P1.w1", "E1.+", length_m=4)
    )


def test_a_feeder_of_12_m_and_a_branch_of_4_m_make_a_loop_of_32_m():
    survey = Survey(feeder_and_branch().diagram())
    assert loop_length_m(survey.graph, "G1", "E1") == 32
    assert {edge.owner for edge in shadow_edges(survey.graph)} == {"W1", "W2"}


def test_a_drawn_return_counts_instead_of_the_mirror():
    diagram = feeder_and_branch().wire("W3", "E1.-", "G1.-", cores=("-",), length_m=20).diagram()
    assert loop_length_m(Survey(diagram).graph, "G1", "E1") == 36


def test_a_stated_return_length_counts_instead_of_the_feed():
    boat = (
        Boat().battery("G1").load("E1")
        .wire("W1", "G1.+", "E1.+", length_m=5, return_length_m=1)
    )
    assert loop_length_m(Survey(boat.diagram()).graph, "G1", "E1") == 6


def test_a_pair_carries_its_own_return():
    boat = (
        Boat().battery("G1").panel("P1", {"rated_a": 10}).load("E1")
        .wire("W1", "G1.+", "P1.in", length_m=12)
        .wire("W3", "P1.-", "G1.-", cores=("-",), length_m=12)
        .wire("W2", "P1.w1", "E1.+", cores=("+", "-"), length_m=4)
    )
    survey = Survey(boat.diagram())
    assert loop_length_m(survey.graph, "G1", "E1") == 32
    assert "W2" not in {edge.owner for edge in shadow_edges(survey.graph)}


def test_a_missing_length_gives_no_figure():
    boat = Boat().battery("G1").load("E1").wire("W1", "G1.+", "E1.+")
    assert loop_length_m(Survey(boat.diagram()).graph, "G1", "E1") is None


def test_a_system_with_drawn_returns_has_no_mirror():
    boat = (
        Boat(returns="drawn").battery("G1").load("E1").wire("W1", "G1.+", "E1.+", length_m=5)
    )
    assert shadow_edges(Survey(boat.diagram()).graph) == []
