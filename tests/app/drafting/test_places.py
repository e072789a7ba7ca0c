"""Places: drawn round parts that then belong to them, sized, and moved with all that is in them."""

from __future__ import annotations

from app.drafting.belonging import holds, place_at
from app.drafting.parts import move_edit, place_edit
from app.drafting.places import (
    box_on_grid,
    members,
    move_place_edit,
    new_place_edit,
    outline_of,
    place_field_edit,
    size_place_edit,
)
from app.drafting.removal import remove_edit
from app.drafting.wires import reroute_edit
from app.drawing.marks import Box
from model.edits import apply, inverse
from model.storage.save import dumps
from model.validity import check_diagram
from tests.boat_builder import Boat


def boat():
    diagram = (Boat().battery("G1", at=(60, 60)).fuse("F1", at=(100, 60))
               .load("E1", at=(200, 60)).wire("W1", "G1.+", "F1.a").diagram())
    return apply(diagram, reroute_edit(diagram, ["W1"]))


def done(diagram, edit):
    after = apply(diagram, edit)
    check_diagram(after)
    assert dumps(apply(after, inverse(edit))) == dumps(diagram)
    return after


def with_place(diagram=None, box=Box(40, 40, 120, 90)):  # noqa: B008  a box cannot be changed
    diagram = diagram or boat()
    return done(diagram, new_place_edit(diagram, box))


def test_parts_in_the_rectangle_belong_to_the_place():
    after = with_place()
    assert [part.place for part in after.components.values()] == ["Z1", "Z1", None]
    assert members(after, "Z1") == {"G1", "F1"}


def test_a_place_within_a_place_has_the_parts_that_stand_in_it():
    after = with_place(with_place(), Box(85, 45, 115, 80))
    assert (after.components["G1"].place, after.components["F1"].place) == ("Z1", "Z2")
    assert place_at(after, (100, 60)).id == "Z2"


def test_a_smaller_place_lets_go_of_what_is_outside_now():
    after = with_place()
    after = done(after, size_place_edit(after, "Z1", Box(40, 40, 85, 90)))
    assert (after.components["G1"].place, after.components["F1"].place) == ("Z1", None)


def test_a_larger_place_takes_what_comes_to_stand_in_it():
    after = with_place()
    after = done(after, size_place_edit(after, "Z1", Box(40, 40, 230, 90)))
    assert after.components["E1"].place == "Z1"


def test_a_place_moves_with_its_parts_their_conductors_and_inner_places():
    before = with_place(with_place(), Box(85, 45, 115, 80))
    after = done(before, move_place_edit(before, "Z1", 10, 100))
    assert after.places["Z1"].outline == outline_of(Box(50, 140, 130, 190))
    assert after.places["Z2"].outline[0] == (95, 145)
    assert after.components["G1"].at == (70, 160)
    assert after.components["E1"].at == (200, 60)
    for wire in after.conductors.values():
        assert wire.path.points == tuple(
            (x + 10, y + 100) for x, y in before.conductors[wire.id].path.points)
    assert [part.place for part in after.components.values()] == ["Z1", "Z2", None]


def test_a_part_dragged_into_a_place_belongs_to_it_and_dragged_out_no_more():
    after = with_place()
    inside = done(after, move_edit(after, ["E1"], -140, 20))
    assert inside.components["E1"].place == "Z1"
    outside = done(inside, move_edit(inside, ["E1"], 140, -20))
    assert outside.components["E1"].place is None


def test_a_new_part_belongs_where_it_is_put():
    after = with_place()
    assert apply(after, place_edit(after, "lamp", (60, 80))).components["E2"].place == "Z1"


def test_what_the_owner_said_stays_where_no_outline_says_otherwise():
    diagram = (Boat().place("Z9", "deck").load("E1", at=(60, 60), place="Z9").diagram())
    assert done(diagram, move_edit(diagram, ["E1"], 50, 0)).components["E1"].place == "Z9"


def test_a_place_that_goes_leaves_its_parts():
    after = with_place()
    gone = done(after, remove_edit(after, ["Z1"]))
    assert set(gone.components) == {"G1", "F1", "E1"} and gone.components["G1"].place is None


def test_environment_and_name_are_set_as_steps():
    after = with_place()
    after = apply(after, place_field_edit(after, "Z1", "environment", "engine_space"))
    after = apply(after, place_field_edit(after, "Z1", "name", "Engine space"))
    assert (after.places["Z1"].environment, after.places["Z1"].name) == (
        "engine_space", "Engine space")


def test_the_rectangle_is_on_the_grid_and_never_nothing():
    assert box_on_grid((61, 59), (42, 43)) == Box(42.5, 42.5, 60, 60)
    tiny = box_on_grid((50, 50), (51, 51))
    assert tiny.w == tiny.h == 10


def test_an_outline_with_a_corner_cut_out_holds_what_is_inside():
    angled = ((0, 0), (40, 0), (40, 20), (20, 20), (20, 40), (0, 40))
    assert holds(angled, (10, 30)) and not holds(angled, (30, 30))
