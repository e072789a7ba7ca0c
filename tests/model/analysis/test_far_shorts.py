"""The weakest far short of each device."""

from __future__ import annotations

import pytest

from model.analysis.far_shorts import far_shorts
from model.analysis.fault_current import fault_current
from model.survey import Survey
from tests.boat_builder import Boat

BANK = {"internal_resistance_ohm": 0.005, "rest_v": 12.6}


def boat(**fuse: object) -> Boat:
    made = Boat().battery("G1", **BANK).part("F1", "breaker", **fuse).load("E1").load("E2")
    made.wire("W1", "G1.+", "F1.a", "6 mm2", length_m=0.1)
    made.wire("W2", "F1.b", "E1.+", "6 mm2", length_m=3)
    return made.wire("W3", "F1.b", "E2.+", "2.5 mm2", length_m=9)


def test_the_far_end_with_the_smallest_current_is_told() -> None:
    survey = Survey(boat(rated_a=20).diagram())
    (short,) = far_shorts(survey)
    assert (short.device, short.end, short.conductors) == ("F1", "E2", ("W3",))
    assert short.current_a == pytest.approx(fault_current(survey, "E2.+").i_min_a, rel=1e-4)


def test_an_electronic_device_opens_on_any_overload() -> None:
    assert far_shorts(Survey(boat(rated_a=20, trip="electronic").diagram())) == ()


def test_an_unknown_rating_leaves_the_device_to_be_asked_about() -> None:
    (short,) = far_shorts(Survey(boat().diagram()))
    assert (short.device, short.rated_a) == ("F1", None)
