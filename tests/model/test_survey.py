"""The survey: the front through which all electrical questions go."""

from __future__ import annotations

import pytest

from model.errors import MissingReference, UnknownPosition
from model.survey import Survey
from tests.boat_builder import Boat
from tests.rules.bases import tidy


def test_answers_are_computed_once() -> None:
    survey = Survey(tidy())
    assert survey.graph is survey.graph
    assert survey.leads is survey.leads
    wire = survey.diagram.conductors["W1"]
    assert survey.ampacity_range(wire, "us") is survey.ampacity_range(wire, "us")


def test_a_mode_sets_the_positions_and_the_sources() -> None:
    boat = Boat().battery("G1").switch("Q1").load("E1").part("G2", "solar_array")
    boat.wire("W1", "G1.+", "Q1.a").wire("W2", "Q1.b", "E1.+")
    boat.mode("night", positions={"Q1": "off"}, sun_fraction=0)
    survey = Survey(boat.diagram())
    assert survey.live().components["E1"] == {"G1"}
    assert survey.live().components["G2"] == {"G2"}
    assert not survey.live(mode_id="night").components["E1"]
    assert not survey.live(mode_id="night").components["G2"]


@pytest.mark.parametrize("positions", [{"Q9": "on"}, {"Q1": "sideways"}, {"F1.w1": "on"}])
def test_a_position_that_does_not_exist_is_refused_by_name(positions: dict[str, str]) -> None:
    with pytest.raises(UnknownPosition) as caught:
        Survey(tidy()).live(positions)
    assert next(iter(positions)) in caught.value.sentence


def test_a_mode_that_does_not_exist_is_refused_by_name() -> None:
    with pytest.raises(MissingReference):
        Survey(tidy()).live(mode_id="nowhere")


def test_a_positive_core_is_ungrounded_and_a_negative_one_is_not() -> None:
    boat = Boat().battery("G1").load("E1").wire("W1", "G1.+", "E1.+")
    boat.wire("W2", "E1.-", "G1.-", cores=("-",))
    survey = Survey(boat.diagram())
    kinds = {e.owner: survey.is_ungrounded(e) for e in survey.graph.edges if e.core}
    assert kinds == {"W1": True, "W2": False}
