"""What copper a charging current meets: by the table of resistance, out and back."""

from __future__ import annotations

import pytest

from model.analysis.charging import charging_way
from model.analysis.charging_lead import LeadOhm, out_and_back_ohm, out_ohm
from model.survey import Survey
from model.tables import resistance_ohm_per_km
from tests.boat_builder import Boat, size


def per_m(text: str) -> float:
    return resistance_ohm_per_km(size(text)).value / 1000


def charger() -> Boat:
    boat = Boat(returns="drawn").battery("G1").part("T1", "shore_charger").fuse("F1", 40)
    boat.wire("W1", "T1.1+", "F1.b", "10 mm2", length_m=3)
    return boat.wire("W2", "F1.a", "G1.+", "16 mm2", length_m=0.5, parallel_count=2)


def lead(boat: Boat) -> LeadOhm:
    graph = Survey(boat.diagram()).graph
    way = charging_way(graph, graph.number["T1.1+"], ["G1"])
    return out_and_back_ohm(graph, way, "G1")


def test_a_return_that_is_not_drawn_mirrors_the_feed() -> None:
    found = lead(charger())
    one_way = 3 * per_m("10 mm2") + 0.5 * per_m("16 mm2") / 2
    assert found.ohm == pytest.approx(2 * one_way)
    assert found.culprit == "W1"
    assert found.missing == ()


def test_a_drawn_return_counts_as_it_is() -> None:
    found = lead(charger().wire("N1", "T1.-", "G1.-", "25 mm2", cores=("-",), length_m=4))
    one_way = 3 * per_m("10 mm2") + 0.5 * per_m("16 mm2") / 2
    assert found.ohm == pytest.approx(one_way + 4 * per_m("25 mm2"))


def test_what_is_not_recorded_is_named_and_counts_nothing() -> None:
    found = lead(charger().wire("W1", "T1.1+", "F1.b"))
    assert found.missing == ("W1.length_m", "W1.size")
    assert found.culprit == "W2"


def test_nothing_on_the_way_is_nothing() -> None:
    graph = Survey(charger().diagram()).graph
    assert out_ohm(graph, ()).ohm == 0
    assert out_ohm(graph, ()).culprit == ""
