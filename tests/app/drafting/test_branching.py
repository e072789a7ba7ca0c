"""A branch from the middle of a conductor: a stud of its pole, and halves that add up."""

from __future__ import annotations

import pytest

from app.drafting.branching import OnWire, join_edit, new_wire
from app.drafting.inserting import NoPole
from app.drafting.wires import NotConnectable, reroute_edit
from app.drawing.sheet import sheet_drawing
from model.edits import apply, inverse
from model.storage.save import dumps
from model.validity import check_diagram
from tests.boat_builder import Boat


def boat(**fields):
    cores = fields.pop("cores", ("+",))
    port = "-" if cores == ("-",) else "+"
    diagram = (Boat().battery("G1", at=(60, 60)).load("E1", at=(200, 60))
               .load("E2", at=(130, 120))
               .wire("W1", f"G1.{port}", f"E1.{port}", "10 mm2", cores=cores, length_m=3.0,
                     **fields).diagram())
    return apply(diagram, reroute_edit(diagram, ["W1"]))


def on_wire(diagram, near=(130, 50), leg=1):
    return OnWire("W1", sheet_drawing(diagram).paths["W1"], leg, near)


def branched(diagram, first, second):
    edit = join_edit(diagram, first, second)
    after = apply(diagram, edit)
    check_diagram(after)
    assert dumps(apply(after, inverse(edit))) == dumps(diagram)
    return after, new_wire(edit)


@pytest.mark.parametrize("begins_on_the_wire", [True, False])
def test_a_branch_puts_in_a_stud_and_is_one_step(begins_on_the_wire):
    diagram = boat()
    ends = (on_wire(diagram), ("E2", "+"))
    after, branch = branched(diagram, *(ends if begins_on_the_wire else ends[::-1]))
    assert after.components["X1"].kind == "stud"
    assert {end.component for end in after.conductors[branch].ends()} == {"X1", "E2"}
    halves = [wire for wire in after.conductors.values() if wire.id != branch]
    assert sum(wire.length_m for wire in halves) == pytest.approx(3.0)
    assert {wire.size.text for wire in halves} == {"10"}


def test_the_stud_has_the_pole_of_the_conductor():
    diagram = boat(cores=("-",))
    wire = sheet_drawing(diagram).paths["W1"]
    after, _ = branched(diagram, OnWire("W1", wire, 1, (130, 70)), ("E2", "-"))
    assert after.components["X1"].parameters["pole"] == "-"


def test_the_stud_stands_on_the_line():
    diagram = boat()
    after, _ = branched(diagram, on_wire(diagram), ("E2", "+"))
    path = sheet_drawing(diagram).paths["W1"]
    x, y = after.components["X1"].at
    assert y == path[1][1] and path[1][0] < x < path[2][0]


def test_a_pair_is_not_branched_by_a_stud():
    diagram = (Boat().part("G2", "solar_array", at=(60, 60)).load("E1", at=(200, 60))
               .load("E2", at=(130, 120)).wire("W1", "G2.+", "E1.+", cores=("+", "-")).diagram())
    with pytest.raises(NoPole, match="does not take every core"):
        join_edit(diagram, on_wire(diagram, leg=0), ("E2", "+"))


def test_a_conductor_is_not_joined_to_itself():
    diagram = boat()
    with pytest.raises(NotConnectable):
        join_edit(diagram, on_wire(diagram), on_wire(diagram, (100, 50)))


def test_a_negative_part_is_not_led_to_a_signal():
    diagram = boat()
    control = (Boat().part("A1", "battery_management_unit", at=(100, 150)).diagram())
    diagram = diagram.replaced(components=diagram.components.with_item(
        "A1", control.components["A1"]))
    after, branch = branched(diagram, on_wire(diagram), ("A1", "supply"))
    assert after.conductors[branch].cores == ("+",)
