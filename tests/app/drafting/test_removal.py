"""Removing: nothing is left pointing at what went, and undo brings all of it back."""

from __future__ import annotations

import pytest

from app.drafting.removal import remove_edit
from model.edits import apply, inverse
from model.storage.save import dumps
from model.validity import check_diagram
from tests.boat_builder import Boat


def without(diagram, *items):
    """Remove, check what is left whole, and see that undo gives the same bytes."""
    edit = remove_edit(diagram, items)
    after = apply(diagram, edit)
    check_diagram(after)
    assert dumps(apply(after, inverse(edit))) == dumps(diagram)
    return after


def test_a_part_takes_its_conductors_with_it():
    diagram = (Boat().battery("G1").fuse("F1").load("E1")
               .wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "E1.+").diagram())
    after = without(diagram, "F1")
    assert set(after.components) == {"G1", "E1"}
    assert not after.conductors


def test_a_conductor_goes_alone():
    diagram = Boat().battery("G1").load("E1").wire("W1", "G1.+", "E1.+").diagram()
    after = without(diagram, "W1")
    assert set(after.components) == {"G1", "E1"} and not after.conductors


def test_an_alternator_loses_the_engine_that_drove_it():
    diagram = (Boat().part("M1", "engine_block").part("G2", "alternator", driven_by="M1")
               .diagram())
    assert "driven_by" not in without(diagram, "M1").components["G2"].parameters


def test_a_list_of_parts_loses_only_what_went():
    diagram = (Boat().part("Q1", "load_switch").part("Q2", "load_switch")
               .part("G2", "alternator", stops_on=("Q1", "Q2")).diagram())
    assert without(diagram, "Q1").components["G2"].parameters["stops_on"] == ("Q2",)


@pytest.mark.parametrize("field", ["mounted_on", "enclosure"])
def test_what_was_mounted_stands_alone(field):
    diagram = (Boat().part("M1", "engine_block")
               .part("E1", "load", **{field: "M1"}).diagram())
    assert getattr(without(diagram, "M1").components["E1"], field) is None


def test_modes_forget_switches_and_machines():
    diagram = (Boat().switch("Q1").part("M1", "engine_block").switch("Q2")
               .mode("D1", positions={"Q1": "off", "Q2": "off"}, engines_running=("M1",))
               .diagram())
    mode = without(diagram, "Q1", "M1").modes["D1"]
    assert dict(mode.positions) == {"Q2": "off"}
    assert mode.engines_running == ()


def test_modes_forget_the_ways_of_a_panel():
    diagram = (Boat().panel("P1", {}, {}).mode("D1", positions={"P1.w2": "off"}).diagram())
    assert not without(diagram, "P1").modes["D1"].positions


def test_modes_forget_figures_of_what_went():
    diagram = (Boat().battery("G1").load("E1").load("E2")
               .mode("D1", absent=("E1",), load_current_a={"E1": 2.0, "E2": 3.0},
                     state_of_charge={"G1": 0.5}).diagram())
    mode = without(diagram, "E1", "G1").modes["D1"]
    assert mode.absent == ()
    assert dict(mode.load_current_a) == {"E2": 3.0}
    assert not mode.state_of_charge


def test_a_system_loses_its_datum():
    diagram = (Boat().part("X1", "busbar", pole="-")
               .system("S2", 24, negative_datum="X1.s1").diagram())
    assert without(diagram, "X1").systems["S2"].negative_datum is None


def test_loads_drawn_in_a_panel_go_with_it():
    diagram = (Boat().panel("P1", {}, {}).load("E1", row_of="P1.w1")
               .wire("W1", "P1.w1", "E1.+").load("E2").diagram())
    after = without(diagram, "P1")
    assert set(after.components) == {"E2"} and not after.conductors


def test_the_step_is_titled_by_what_was_chosen():
    diagram = Boat().fuse("F1").fuse("F2").diagram()
    assert remove_edit(diagram, ["F1"]).label == "Remove F1"
    assert remove_edit(diagram, ["F1", "F2"]).label == "Remove 2 things"


def test_removing_everything_leaves_an_empty_sheet():
    diagram = (Boat().battery("G1").fuse("F1").load("E1", mounted_on="G1")
               .wire("W1", "G1.+", "F1.a").diagram())
    after = without(diagram, *diagram.components, *diagram.conductors)
    assert not after.components and not after.conductors
