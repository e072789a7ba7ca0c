"""Fitting a device into a conductor and taking it out again: what is kept, shared out and lost."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.drafting.healing import remove_and_heal_edit
from app.drafting.inserting import (
    NoPole,
    fits_in,
    gap_on,
    insert_edit,
    is_loose,
    split_edit,
    supply_side,
)
from app.drafting.parts import new_component
from app.drafting.wires import connect_edit, reroute_edit
from app.drawing.sheet import sheet_drawing
from model.diagram import Diagram
from model.edits import apply, changed, inverse, setting
from model.errors import ModelError
from model.kinds import catalogue
from model.storage.save import dumps
from model.validity import check_diagram
from tests.boat_builder import Boat

INLINE_DC = [kind.slug for kind in catalogue().values()
             if kind.inline and "+" in kind.ports({})[0].poles]


def fed_load(start="G1.+", finish="E1.+", **fields) -> Diagram:
    """A bank at the left and a load at the right, one conductor with what is known of it."""
    known = {"length_m": 3.0, "colour": "red", "insulation_c": 105, "sheath": "none",
             "tinned": True, **fields}
    diagram = (Boat().battery("G1", at=(60, 60)).load("E1", at=(200, 60))
               .wire("W1", start, finish, "10 mm2", **known).diagram())
    return apply(diagram, reroute_edit(diagram, ["W1"]))


def inserted(diagram: Diagram, kind: str, near: tuple[float, float], wire: str = "W1"):
    """Insert, check the diagram, and see that undo gives the same bytes."""
    gap = gap_on(diagram.conductors[wire], sheet_drawing(diagram).paths[wire], near,
                 supply_side(diagram, diagram.conductors[wire]))
    edit = insert_edit(diagram, new_component(diagram, kind, (0, 0)), gap)
    after = apply(diagram, edit)
    check_diagram(after)
    assert dumps(apply(after, inverse(edit))) == dumps(diagram)
    return after


@pytest.mark.parametrize("kind", INLINE_DC)
def test_every_device_of_a_line_is_fitted_in_and_heals(kind):
    diagram = fed_load()
    after = inserted(diagram, kind, (130, 50))
    part = next(item for item in after.components if item not in diagram.components)
    healed = apply(after, remove_and_heal_edit(after, [part]))
    assert healed.components == diagram.components
    whole = healed.conductors["W1"]
    assert changed(whole, known={}) == diagram.conductors["W1"]


def test_both_halves_keep_what_is_known_of_the_cable():
    halves = inserted(fed_load(), "fuse", (130, 50)).conductors.values()
    assert len(halves) == 2
    for name in ("size", "colour", "insulation_c", "sheath", "tinned", "cores"):
        assert len({getattr(half, name) for half in halves}) == 1


def test_the_length_is_shared_out_by_where_it_falls_near_the_supply():
    after = inserted(fed_load(), "fuse", (70, 50))
    near, far = after.conductors["W2"], after.conductors["W1"]
    assert near.start.component == "G1" and near.finish.terminal == "a"
    assert far.start.terminal == "b"
    assert near.length_m < 0.5 and near.length_m + far.length_m == pytest.approx(3.0)
    assert near.known["length_m"] == far.known["length_m"] == "estimated"


def test_terminal_a_faces_the_supply_whichever_way_the_conductor_was_drawn():
    after = inserted(fed_load(start="E1.+", finish="G1.+"), "breaker", (130, 50))
    at_supply = next(wire for wire in after.conductors.values()
                     if "G1" in {end.component for end in wire.ends()})
    assert ("F1", "a") in {(end.component, end.terminal) for end in at_supply.ends()}


def test_the_supply_is_found_behind_switches_and_not_through_a_load():
    diagram = (Boat().battery("G1").fuse("F1").switch("Q1").load("E1").busbar("X1", pole="-")
               .wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "Q1.a").wire("W3", "Q1.b", "E1.+")
               .wire("W4", "E1.-", "X1.s1", cores=("-",))
               .wire("W5", "X1.s2", "G1.-", cores=("-",)).diagram())
    assert supply_side(diagram, diagram.conductors["W3"]) == "start"
    assert supply_side(diagram, diagram.conductors["W4"]) == "finish"


def test_the_owner_sets_the_supplys_side_and_the_rest_goes_beyond():
    after = inserted(fed_load(), "fuse", (130, 50))
    after = apply(after, split_edit(after, "F1", 0.2))
    assert (after.conductors["W2"].length_m, after.conductors["W1"].length_m) == (0.2, 2.8)
    with pytest.raises(ModelError, match="whole cable is 3 m"):
        split_edit(after, "F1", 3.5)


def test_an_unknown_length_stays_unknown_on_both_sides():
    after = inserted(fed_load(length_m=None), "fuse", (130, 50))
    assert {wire.length_m for wire in after.conductors.values()} == {None}
    with pytest.raises(ModelError):
        split_edit(after, "F1", 0.2)


def test_a_device_in_the_negative_opens_the_negative():
    diagram = fed_load(start="G1.-", finish="E1.-", cores=("-",))
    after = inserted(diagram, "fuse", (130, 70))
    assert after.components["F1"].parameters["poles"] == "-"
    assert "poles" not in inserted(fed_load(), "fuse", (130, 50)).components["F1"].parameters


def test_a_shunt_sits_in_the_pole_it_was_dropped_on():
    assert inserted(fed_load(), "shunt", (130, 50)).components["B1"].parameters["poles"] == "+"


def test_the_gap_is_on_the_grid_and_clear_of_the_ends():
    diagram = fed_load()
    after = inserted(diagram, "fuse", (60, 50))
    x, y = after.components["F1"].at
    assert x % 2.5 == 0 and y % 2.5 == 0
    for wire in after.conductors.values():
        assert len(set(wire.path.points)) >= 2


def test_an_ac_breaker_does_not_fit_a_dc_conductor():
    diagram = fed_load()
    breaker = new_component(diagram, "ac_breaker", (0, 0))
    wire = diagram.conductors["W1"]
    assert not fits_in(breaker, wire)
    gap = gap_on(wire, sheet_drawing(diagram).paths["W1"], (130, 50), "start")
    with pytest.raises(NoPole):
        insert_edit(diagram, breaker, gap)


def test_a_part_that_is_on_the_sheet_and_free_is_fitted_in_as_it_is():
    diagram = fed_load()
    spare = changed(new_component(diagram, "breaker", (130, 120)), name="Spare",
                    parameters={"rated_a": 20})
    diagram = apply(diagram, setting(diagram, "", spare))
    assert is_loose(diagram, diagram.components["F1"])
    gap = gap_on(diagram.conductors["W1"], sheet_drawing(diagram).paths["W1"], (130, 50), "start")
    after = apply(diagram, insert_edit(diagram, diagram.components["F1"], gap))
    assert after.components["F1"].parameters["rated_a"] == 20
    assert not is_loose(after, after.components["F1"])


@settings(max_examples=40, deadline=None)
@given(st.floats(55, 205), st.floats(45, 65), st.floats(0.05, 40))
def test_wherever_it_is_dropped_the_whole_length_comes_back(x, y, length_m):
    diagram = fed_load(length_m=round(length_m, 2))
    after = inserted(diagram, "fuse", (x, y))
    healed = apply(after, remove_and_heal_edit(after, ["F1"]))
    assert healed.conductors["W1"].length_m == diagram.conductors["W1"].length_m
    assert healed.conductors["W1"].path == diagram.conductors["W1"].path


@pytest.mark.parametrize("length_m", [0.0, 0.004, 0.006, 0.01])
def test_of_a_hairs_breadth_no_half_is_longer_than_the_whole(length_m):
    after = inserted(fed_load(length_m=length_m), "fuse", (190, 50))
    assert sum(wire.length_m for wire in after.conductors.values()) == pytest.approx(length_m)


def test_parts_whose_terminals_lie_on_each_other_can_be_joined_and_drawn():
    diagram = Boat().fuse("F1", at=(60, 60)).fuse("F2", at=(60, 70)).diagram()
    after = apply(diagram, connect_edit(diagram, ("F1", "b"), ("F2", "a")))
    assert "W1" in sheet_drawing(after).paths


def test_halves_that_differ_leave_the_field_unknown_and_say_so():
    after = inserted(fed_load(), "fuse", (130, 50))
    thin = changed(after.conductors["W2"], size=None, colour="yellow")
    after = apply(after, setting(after, "", thin))
    edit = remove_and_heal_edit(after, ["F1"])
    whole = apply(after, edit).conductors["W1"]
    assert whole.size is None and whole.colour is None and whole.insulation_c == 105
    assert edit.label == ("Remove F1, W1 made whole; its size and colour now unknown, "
                          "as the halves differed")


def test_a_length_known_on_one_side_only_is_unknown_of_the_whole():
    after = inserted(fed_load(), "fuse", (130, 50))
    after = apply(after, setting(after, "", changed(after.conductors["W2"], length_m=None)))
    edit = remove_and_heal_edit(after, ["F1"])
    assert apply(after, edit).conductors["W1"].length_m is None
    assert "its length now unknown" in edit.label


def test_a_row_of_devices_heals_as_one():
    after = inserted(fed_load(), "fuse", (90, 50))
    after = inserted(after, "battery_switch", (160, 50))
    healed = apply(after, remove_and_heal_edit(after, ["F1", "Q1"]))
    (wire,) = healed.conductors.values()
    assert {end.component for end in wire.ends()} == {"G1", "E1"}
    assert wire.length_m == 3.0


def test_a_device_with_a_conductor_of_its_own_chosen_is_not_healed_over():
    after = inserted(fed_load(), "fuse", (130, 50))
    gone = apply(after, remove_and_heal_edit(after, ["F1", "W2"]))
    assert not gone.conductors


def test_a_contactor_takes_its_coil_lines_with_it():
    after = inserted(fed_load(), "contactor", (130, 50))
    other = (Boat().switch("S1", "load_switch", at=(130, 150)).diagram().components["S1"])
    after = apply(after, setting(after, "", other))
    after = apply(after, connect_edit(after, ("S1", "b"), ("K1", "coil+")))
    healed = apply(after, remove_and_heal_edit(after, ["K1"]))
    assert set(healed.conductors) == {"W1"}
    check_diagram(healed)
