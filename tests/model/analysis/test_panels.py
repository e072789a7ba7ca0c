"""Panels as their feeders see them."""

from __future__ import annotations

from model.analysis.panels import panel_feeds
from model.survey import Survey
from tests.boat_builder import Boat


def boat(**panel: object) -> Boat:
    made = Boat().battery("G1").fuse("F1", 100)
    made.panel("P1", {"rated_a": 10}, {"rated_a": 15, "spare": True}, {}, **panel)
    return made.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "P1.in")


def test_a_feed_names_its_device_and_adds_up_the_ways_in_use() -> None:
    (feed,) = panel_feeds(Survey(boat(bus_rated_a=60).diagram()))
    assert (feed.panel, feed.wire, feed.device, feed.rated_a) == ("P1", "W2", "F1", 100)
    assert (feed.bus_a, feed.main_a, feed.ways_a) == (60, None, 10)
    assert feed.unknown_ways == ("P1.w3",)


def test_a_main_of_its_own_is_told() -> None:
    main = ({"id": "main", "device": "breaker", "rated_a": 30},)
    (feed,) = panel_feeds(Survey(boat(main=main).diagram()))
    assert feed.main_a == 30


def test_a_panel_without_any_device_before_it_has_no_feed_here() -> None:
    made = Boat().battery("G1").panel("P1", {"rated_a": 10}).wire("W1", "G1.+", "P1.in")
    assert panel_feeds(Survey(made.diagram())) == ()
