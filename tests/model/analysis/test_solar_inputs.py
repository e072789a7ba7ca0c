"""Arrays at a controller's input, and what heavy loads draw."""

from __future__ import annotations

import pytest

from model.analysis.heavy_loads import heavy_a, heavy_field, is_heavy
from model.analysis.solar_inputs import array_a, array_w, row_v, solar_inputs
from model.survey import Survey
from tests.boat_builder import Boat


def test_arrays_side_by_side_are_found_behind_a_switch() -> None:
    boat = Boat().part("T2", "solar_controller").switch("Q6", normal="open")
    boat.part("G7", "solar_array", panel_w=100).part("G6", "solar_array").part("G8", "solar_array")
    boat.wire("W1", "G6.+", "T2.pv+").wire("W2", "G7.+", "Q6.a").wire("W3", "Q6.b", "T2.pv+")
    (found,) = solar_inputs(Survey(boat.diagram()).graph)
    assert found.where == ("T2", "G6", "G7")
    assert found.unknown("panel_w") == ("G6.panel_w",)


def test_an_array_is_its_panels_in_series_and_side_by_side() -> None:
    diagram = Boat().part("G6", "solar_array", panel_w=100, panel_isc_a=6, panel_voc_v=22,
                          series_count=3, parallel_count=2).diagram()
    array = diagram.components["G6"]
    assert row_v((array,), "panel_voc_v") == 66  # 3 x 22
    assert array_a(array) == 12  # 2 x 6
    assert array_w(array) == 600  # 6 x 100


def test_arrays_one_on_the_other_are_one_row() -> None:
    boat = Boat().part("T2", "solar_controller")
    boat.part("G6", "solar_array", panel_voc_v=22, series_count=1)
    boat.part("G7", "solar_array", panel_voc_v=20, series_count=2).part("G8", "solar_array")
    boat.wire("W1", "G6.+", "T2.pv+").wire("W2", "G7.+", "G6.-").wire("W3", "G8.+", "T2.pv+")
    (found,) = solar_inputs(Survey(boat.diagram()).graph)
    assert [[array.id for array in row] for row in found.rows] == [["G6", "G7"], ["G8"]]
    assert row_v(found.rows[0], "panel_voc_v") == 62  # 22 + 2 x 20


def test_what_is_stored_is_at_no_input() -> None:
    boat = Boat().part("T2", "solar_controller").part("G6", "solar_array", stored=True)
    assert solar_inputs(Survey(boat.wire("W1", "G6.+", "T2.pv+").diagram()).graph) == ()


@pytest.mark.parametrize(("kind", "field"), [
    ("windlass", "E1.current_a"), ("inverter", "E1.rated_w")])
def test_what_would_tell_what_a_heavy_load_draws(kind: str, field: str) -> None:
    part = Boat().part("E1", kind).diagram().components["E1"]
    assert is_heavy(part)
    assert heavy_field(part) == field


@pytest.mark.parametrize(("kind", "fields", "expected"), [
    ("windlass", {"current_a": 90}, 90),
    ("windlass", {"power_w": 1200}, 100),  # 1200 W / 12 V
    ("windlass", {"power_w": 1200, "nominal_v": 24}, 50),
    ("windlass", {}, None),
    ("motor", {"role": "winch", "current_a": 80}, 80),
    ("pump", {"current_a": 80}, None),
    ("inverter", {"rated_w": 1200}, 100),
    ("inverter", {"rated_w": 1200, "input_v": 24}, 50),
    ("inverter_charger", {}, None),
])  # fmt: skip
def test_what_heavy_loads_draw(kind: str, fields: dict[str, float], expected: float | None) -> None:
    part = Boat().part("E1", kind, **fields).diagram().components["E1"]
    assert heavy_a(part, 12) == expected
