"""Loose breakers become a panel and a panel loose breakers; cables and loads stay."""

from __future__ import annotations

from importlib.resources import files

import pytest

from app.drafting.panel_making import NotOnePanel, loosen_panel_edit, make_panel_edit
from model.edits import apply, inverse
from model.storage import load
from model.storage.save import dumps
from model.survey import Survey
from model.validity import check_diagram
from tests.boat_builder import Boat

DEMO = files("assets").joinpath("demo")


def loose(kind="breaker"):
    boat = (Boat().battery("G1", at=(50, 50)).busbar("X1", at=(60, 100), stud_count=4)
            .wire("W0", "G1.+", "X1.s1", "35 mm2", length_m=1.0))
    for n, size in ((1, "4 mm2"), (2, "6 mm2"), (3, "2.5 mm2")):
        boat = (boat.part(f"F{n}", kind, at=(100, 80 + 15 * n), turn=270, rated_a=5.0 * n)
                .load(f"E{n}", at=(160, 80 + 15 * n), name=f"Lamp {n}")
                .wire(f"W{n}", f"X1.s{n + 1}", f"F{n}.a", size, length_m=0.2)
                .wire(f"W{n}0", f"F{n}.b", f"E{n}.+", "2.5 mm2", length_m=4.0 + n))
    return boat.mode("D1", positions={"F2": "off" if kind == "breaker" else "pulled"}).diagram()


def done(diagram, edit):
    after = apply(diagram, edit)
    check_diagram(after)
    assert dumps(apply(after, inverse(edit))) == dumps(diagram)
    return after


@pytest.mark.parametrize(("kind", "panel"), [("breaker", "panel"), ("fuse", "fuse_block")])
def test_loose_devices_on_one_bar_become_the_ways_of_a_panel(kind, panel):
    diagram = loose(kind)
    after = done(diagram, make_panel_edit(diagram, ["F1", "F2", "F3"]))
    assert after.components["P1"].kind == panel
    ways = after.components["P1"].parameters["ways"]
    assert [(way["id"], way["device"], way["rated_a"], way["label"]) for way in ways] == [
        ("w1", kind, 5, "Lamp 1"), ("w2", kind, 10, "Lamp 2"), ("w3", kind, 15, "Lamp 3")]
    for n in (1, 2, 3):
        wire = after.conductors[f"W{n}0"]
        assert (wire.start.component, wire.start.terminal) == ("P1", f"w{n}")
        assert wire.length_m == 4.0 + n
    assert dict(after.modes["D1"].positions) == {
        "P1.w2": "off" if kind == "breaker" else "pulled"}


def test_the_thickest_feed_becomes_the_panels():
    diagram = loose()
    after = done(diagram, make_panel_edit(diagram, ["F1", "F2", "F3"]))
    feeds = [wire for wire in after.conductors.values()
             if ("P1", "in") in {(end.component, end.terminal) for end in wire.ends()}]
    assert [(wire.id, wire.size.text) for wire in feeds] == [("W2", "6")]
    assert not {"W1", "W3"} & set(after.conductors)


@pytest.mark.parametrize("items", [["F1"], ["F1", "E1"], []])
def test_fewer_than_two_devices_are_no_panel(items):
    with pytest.raises(NotOnePanel, match="two or more"):
        make_panel_edit(loose(), items)


def test_devices_without_one_feed_are_no_panel():
    diagram = (Boat().battery("G1").battery("G2").part("F1", "breaker").part("F2", "breaker")
               .wire("W1", "G1.+", "F1.a").wire("W2", "G2.+", "F2.a").diagram())
    with pytest.raises(NotOnePanel, match="no feed in common"):
        make_panel_edit(diagram, ["F1", "F2"])


def test_a_panel_taken_apart_keeps_loads_cables_ratings_and_positions():
    diagram = (Boat().battery("G1", at=(50, 50))
               .panel("P1", {"rated_a": 10.0, "label": "Lights"}, {"rated_a": 5.0}, at=(150, 80))
               .load("E1", row_of="P1.w1").load("E2", at=(260, 100))
               .wire("W1", "G1.+", "P1.in", "16 mm2", length_m=2.0)
               .wire("W2", "P1.w1", "E1.+", "2.5 mm2", length_m=5.0)
               .wire("W3", "P1.w2", "E2.+", "1.5 mm2", length_m=6.0)
               .wire("W4", "P1.-", "G1.-", cores=("-",))
               .mode("D1", positions={"P1.w1": "off"}).diagram())
    after = done(diagram, loosen_panel_edit(diagram, "P1"))
    assert "P1" not in after.components
    assert after.components["F1"].name == "Lights"
    assert after.components["F1"].parameters["rated_a"] == 10
    assert after.components["E1"].row_of is None and after.components["E1"].at is not None
    assert after.conductors["W2"].start.component == "F1"
    assert after.conductors["W2"].length_m == 5.0
    assert dict(after.modes["D1"].positions) == {"F1": "off"}
    bars = {part.parameters["pole"] for part in after.components.values()
            if part.kind == "busbar"}
    assert bars == {"+", "-"}


def test_a_cable_of_both_poles_on_a_way_is_not_taken_from_its_bar():
    diagram = (Boat().panel("P1", {}, {}).load("E1").wire(
        "W1", "P1.w1", "E1.+", cores=("+", "-")).diagram())
    with pytest.raises(NotOnePanel, match="brings both poles"):
        loosen_panel_edit(diagram, "P1")


def test_the_demos_panel_feeds_the_same_loads_when_it_is_apart_and_together_again():
    diagram = load(str(DEMO.joinpath("weekend_sloop.loom")))
    loads = [item for item in diagram.components if item.startswith("E")]
    live = Survey(diagram).live({})
    apart = done(diagram, loosen_panel_edit(diagram, "P1"))
    breakers = [item for item in apart.components
                if apart.components[item].kind == "breaker" and item not in diagram.components]
    again = done(apart, make_panel_edit(apart, breakers))
    for after in (apart, again):
        now = Survey(after).live({})
        assert {item: now.components[item] for item in loads} == {
            item: live.components[item] for item in loads}
