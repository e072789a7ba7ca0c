"""To which volts sources are set, and what a maker's figure is at the post of a string."""

from __future__ import annotations

import pytest

from model.analysis.charging_profile import charging_profile, rest_at_post_v, stated_v
from model.survey import Survey
from tests.boat_builder import Boat


def test_a_regulator_has_the_say_over_its_alternator() -> None:
    boat = Boat().part("G5", "alternator", set_v=14.2)
    alone = charging_profile(boat.diagram(), "G5")
    assert (alone.absorption_v, alone.absorption_field, alone.float_field) == (14.2, "G5.set_v", "")
    boat.part("A5", "regulator", regulates="G5", absorption_v=14.4, float_v=13.3)
    ruled = charging_profile(boat.diagram(), "G5")
    assert (ruled.absorption_v, ruled.float_v) == (14.4, 13.3)
    assert (ruled.absorption_field, ruled.float_field) == ("A5.absorption_v", "A5.float_v")


def test_a_wind_generator_has_no_stages() -> None:
    found = charging_profile(Boat().part("G7", "wind_generator").diagram(), "G7")
    assert found.absorption_field == ""


def string(**fields: float) -> Survey:
    boat = Boat(nominal_v=24).battery("G1", **fields).battery("G2", **fields)
    return Survey(boat.wire("W1", "G1.+", "G2.-").diagram())


def test_batteries_in_series_add_their_limits() -> None:
    graph = string(max_charge_v=14.8, rest_v=12.7).graph
    assert stated_v(graph, "G1", "max_charge_v") == pytest.approx(14.8)
    assert stated_v(graph, "G2", "max_charge_v") == pytest.approx(29.6)  # 2 x 14.8
    assert rest_at_post_v(graph, "G2") == pytest.approx(25.4)  # 2 x 12.7


def test_what_is_not_stated_stays_unknown() -> None:
    graph = string().graph
    assert stated_v(graph, "G2", "max_charge_v") is None
    assert rest_at_post_v(Survey(Boat().part("G1", "battery_bank").diagram()).graph, "G1") is None
