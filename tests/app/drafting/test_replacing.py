"""Another kind in a part's place: what is kept, what is told, and that nothing hangs in the air."""

from __future__ import annotations

from importlib.resources import files

import pytest

from app.drafting.replacing import external_regulator_edit, plan_for, plans, replace_edit
from model.edits import apply, inverse
from model.kinds import catalogue
from model.storage import load
from model.storage.save import dumps
from model.validity import check_diagram
from tests.boat_builder import Boat

DEMO = files("assets").joinpath("demo")


def replaced(diagram, item, kind):
    edit = replace_edit(diagram, item, plan_for(diagram, item, catalogue()[kind]))
    after = apply(diagram, edit)
    check_diagram(after)
    assert dumps(apply(after, inverse(edit))) == dumps(diagram)
    return after


def ends_at(diagram, part):
    return {wire.id: end.terminal for wire in diagram.conductors.values()
            for end in wire.ends() if end.component == part}


def test_a_fuse_becomes_a_breaker_with_its_rating_and_conductors():
    diagram = (Boat().battery("G1").fuse("F1", 30, rated_dc_v=32, speed="slow").load("E1")
               .wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "E1.+")
               .mode("D1", positions={"F1": "pulled"}).diagram())
    after = replaced(diagram, "F1", "breaker")
    assert after.components["F1"].parameters == {"rated_a": 30, "rated_dc_v": 32}
    assert ends_at(after, "F1") == {"W1": "a", "W2": "b"}
    assert after.modes["D1"].positions["F1"] == "off"
    words = plan_for(diagram, "F1", catalogue()["breaker"]).words()
    assert "Not on the new part: speed." in words and "Every conductor" in words


def test_a_charger_becomes_an_inverter_charger_by_what_goes_in_and_out():
    diagram = (Boat().part("X1", "shore_inlet").part("T1", "shore_charger").battery("G1")
               .wire("W1", "X1.ac", "T1.ac", cores=("L", "N", "E"))
               .wire("W2", "T1.1+", "G1.+").wire("W3", "T1.-", "G1.-", cores=("-",)).diagram())
    after = replaced(diagram, "T1", "inverter_charger")
    assert ends_at(after, "T1") == {"W1": "ac_in", "W2": "+", "W3": "-"}


def test_an_inverter_feeds_from_the_outlet_side_of_an_inverter_charger():
    diagram = (Boat().part("T1", "inverter").battery("G1").part("E1", "ac_load")
               .wire("W1", "G1.+", "T1.+").wire("W2", "T1.ac", "E1.ac", cores=("L", "N", "E"))
               .diagram())
    assert ends_at(replaced(diagram, "T1", "inverter_charger"), "T1") == {
        "W1": "+", "W2": "ac_out"}


def test_a_solar_controller_becomes_a_dc_charger_the_right_way_round():
    diagram = (Boat().part("G2", "solar_array").part("T1", "solar_controller").battery("G1")
               .wire("W1", "G2.+", "T1.pv+").wire("W2", "T1.out+", "G1.+").diagram())
    assert ends_at(replaced(diagram, "T1", "dc_dc_charger"), "T1") == {
        "W1": "in+", "W2": "out+"}


def test_what_finds_no_terminal_is_told_first_and_keeps_its_cable_on_a_stud():
    diagram = (Boat().battery("G1", at=(60, 60)).battery("G2", at=(60, 120))
               .load("E1", at=(200, 60))
               .part("Q1", "selector_switch", at=(120, 60))
               .wire("W1", "G1.+", "Q1.1", "35 mm2", length_m=1.0)
               .wire("W2", "G2.+", "Q1.2", "35 mm2", length_m=2.0)
               .wire("W3", "Q1.c", "E1.+", "35 mm2", length_m=3.0).diagram())
    plan = plan_for(diagram, "Q1", catalogue()["battery_switch"])
    assert len(plan.loose) == 1
    assert "loose end is drawn beside it" in plan.words()
    after = replaced(diagram, "Q1", "battery_switch")
    assert set(after.conductors) == {"W1", "W2", "W3"}
    stud = next(part for part in after.components.values() if part.kind == "stud")
    assert stud.name.startswith("Loose end of W")
    loose = next(iter(ends_at(after, stud.id)))
    assert after.conductors[loose].size.text == "35"


def test_an_alternator_gets_an_external_regulator_joined_to_its_field():
    diagram = (Boat().part("M1", "engine_block", at=(60, 120))
               .part("G2", "alternator", at=(60, 60), regulation="internal", set_v=14.2,
                     driven_by="M1", rated_a=60).battery("G1", at=(150, 60))
               .wire("W1", "G2.+", "G1.+").diagram())
    edit = external_regulator_edit(diagram, "G2")
    after = apply(diagram, edit)
    check_diagram(after)
    machine, box = after.components["G2"], after.components["A1"]
    assert machine.parameters["regulation"] == "external"
    assert (machine.parameters["regulator"], box.parameters["regulates"]) == ("A1", "G2")
    assert box.parameters["absorption_v"] == 14.2 and "set_v" not in machine.parameters
    assert ends_at(after, "A1").values() == ends_at(after, "G2").values() or "field" in ends_at(
        after, "A1").values()
    assert dumps(apply(after, inverse(edit))) == dumps(diagram)


def test_a_datum_and_references_survive():
    diagram = (Boat().busbar("X1", pole="-").battery("G1").wire(
        "W1", "G1.-", "X1.s1", cores=("-",)).system("S2", 24, negative_datum="X1.s1").diagram())
    assert replaced(diagram, "X1", "terminal_block").systems["S2"].negative_datum == "X1.s1"
    assert replaced(diagram, "X1", "stud").systems["S2"].negative_datum == "X1.s"


def test_loads_in_the_rows_of_a_panel_need_a_kind_with_these_rows():
    diagram = (Boat().panel("P1", {}, {}).load("E1", row_of="P1.w2").wire(
        "W1", "P1.w2", "E1.+").diagram())
    assert [plan.kind for plan in plans(diagram, "P1")] == ["fuse_block"]
    assert replaced(diagram, "P1", "fuse_block").components["E1"].row_of == "P1.w2"


def test_kinds_of_the_same_family_that_keep_all_come_first():
    diagram = (Boat().battery("G1").fuse("F1", 30).wire("W1", "G1.+", "F1.a").diagram())
    assert plans(diagram, "F1")[0].kind == "breaker"


@pytest.mark.parametrize("boat", ["weekend_sloop", "steel_cutter"])
def test_every_plan_for_every_part_of_a_demo_can_be_done_and_undone(boat):
    diagram = load(str(DEMO.joinpath(f"{boat}.loom")))
    one_of_each = {part.kind: part.id for part in diagram.components.values()}
    for item in one_of_each.values():
        for plan in plans(diagram, item)[:3]:
            replaced(diagram, item, plan.kind)
