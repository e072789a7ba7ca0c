"""What goes through a part: lasting, and on top of it what runs for short times."""

from __future__ import annotations

from typing import Any

import pytest

from model.analysis.through_current import by_edges, by_sum, through
from model.survey import Survey
from tests.boat_builder import Boat


def survey() -> Survey:
    """Return 10 A of lasting load and a 60 A windlass behind switch Q1, by short thick cable."""
    wire: dict[str, Any] = {"length_m": 0.1}
    boat = (Boat(negative_datum="X2.s1").battery("G1", capacity_ah=200).switch("Q1").busbar("X1")
            .busbar("X2", pole="-").load("E1", current_a=10).load("M3", "windlass", current_a=60)
            .wire("W1", "G1.+", "Q1.a", "70 mm2", **wire)
            .wire("W2", "Q1.b", "X1.s1", "70 mm2", **wire)
            .wire("W3", "X1.s2", "E1.+", "70 mm2", **wire)
            .wire("W4", "X1.s3", "M3.+", "70 mm2", **wire)
            .wire("N1", "G1.-", "X2.s1", "70 mm2", cores=("-",), **wire))
    return Survey(boat.diagram())


def test_lasting_and_short_currents_are_told_apart() -> None:
    lasting, (short,) = through(survey(), by_edges(survey(), "Q1", "contact"))
    assert lasting.current_a == pytest.approx(10, abs=0.1)
    assert short.load == "M3"
    assert short.current_a == pytest.approx(70, abs=0.1)


def test_what_flows_out_of_a_bar_counts_although_what_flows_in_is_implied() -> None:
    one = survey()
    lasting, _ = through(one, by_sum(one, "X2"))
    assert lasting.current_a == pytest.approx(10, abs=0.1)
