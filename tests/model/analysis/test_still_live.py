"""With this off: what is still live, from which sources, and by which way."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest

from model.analysis.still_live import off_positions, still_live
from model.errors import UnknownPosition
from model.storage import load
from model.survey import Survey
from tests.boat_builder import Boat


def cutter() -> Survey:
    return Survey(load(Path(str(files("assets").joinpath("demo", "steel_cutter.loom")))))


def by_sun_alone() -> dict[str, bool]:
    return {"M1": False, "G7": False, "X9": False}


def test_with_the_house_battery_off_the_sun_keeps_the_panel_live_by_this_way():
    found = still_live(cutter(), {"Q1": "off"}, by_sun_alone())
    assert found.parts["P1"].is_unexpected
    assert found.parts["P1"].ways == {"G6": (
        "G6", "W40", "Q3", "W41", "T3", "W42", "F4", "W43", "X1", "W70", "P1")}


def test_loads_behind_a_converter_are_named_as_well():
    found = still_live(cutter(), {"Q1": "off"}, by_sun_alone())
    groups = {group.at: group for group in found.loads if group.is_unexpected}
    assert set(groups) == {"P1", "P2", "P3"}
    assert set(groups["P2"].loads) == {f"E{number}" for number in range(51, 57)}
    assert groups["P1"].sources == ("G6",)


def test_what_is_ahead_of_the_switch_is_live_from_its_own_bank_as_expected():
    found = still_live(cutter(), {"Q1": "off"}, by_sun_alone())
    assert found.parts["A6"].ways["G1"][-2:] == ("W39", "A6")
    assert not found.parts["A6"].is_unexpected and not found.parts["M2"].is_unexpected


def test_every_live_part_has_a_way_from_each_of_its_sources():
    found = still_live(cutter(), {"Q1": "off"})
    for item, sources in found.state.components.items():
        assert set(found.parts[item].ways if item in found.parts else ()) == sources
        for source in sources:
            way = found.parts[item].ways[source]
            assert way[0] == source and way[-1].partition(".")[0] == item


def test_after_a_least_set_nothing_of_the_panel_is_live():
    survey = cutter()
    chosen = [survey.devices.by_id[item] for item in survey.isolation("P1").sets[0]]
    found = still_live(survey, {d.id: d.position for d in chosen if d.position},
                       {d.id: False for d in chosen if d.position is None})
    assert "P1" not in found.parts and "E31" not in found.parts


def test_a_way_names_the_breaker_of_the_panel_it_passes():
    boat = (Boat().battery("G1").panel("P1", {}, main=({"id": "main", "device": "breaker"},))
            .load("E1").wire("W1", "G1.+", "P1.in").wire("W2", "P1.w1", "E1.+"))
    found = still_live(Survey(boat.diagram()), {})
    assert found.parts["E1"].ways["G1"] == ("G1", "W1", "P1.main", "P1.w1", "W2", "E1")


def test_the_off_position_is_looked_up():
    boat = Boat().switch("Q1").switch("Q2", "selector_switch").fuse("F1")
    graph = Survey(boat.diagram()).graph
    assert off_positions(graph, ["Q1", "Q2", "F1"]) == {"Q1": "off", "Q2": "0", "F1": "pulled"}
    with pytest.raises(UnknownPosition, match="Q7"):
        off_positions(graph, ["Q7"])
