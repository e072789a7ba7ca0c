"""Placing, moving, turning and mirroring parts, with the conductors that end on them."""

from __future__ import annotations

import itertools

import pytest

from app.drafting.parts import field_edit, mirror_edit, move_edit, place_edit, turn_edit
from app.drafting.wires import bend_edit, connect_edit
from app.drawing.placing import placed_parts
from model.edits import apply, inverse
from model.kinds import catalogue
from model.storage.save import dumps
from tests.boat_builder import Boat


def wired(diagram):
    """Connect the bank to the fuse and the fuse to the switch."""
    for first, second in ((("G1", "+"), ("F1", "a")), (("F1", "b"), ("Q1", "a"))):
        diagram = apply(diagram, connect_edit(diagram, first, second))
    return diagram


def assert_paths_end_on_their_terminals(diagram):
    parts = placed_parts(diagram)
    for wire in diagram.conductors.values():
        ends = [parts[end.component].port(end.terminal).at for end in wire.ends()]
        for point, end in zip((wire.path.points[0], wire.path.points[-1]), ends, strict=True):
            assert point == pytest.approx(end, abs=0.01), wire.id
        for a, b in itertools.pairwise(wire.path.points):
            assert a[0] == pytest.approx(b[0]) or a[1] == pytest.approx(b[1]), wire.id


@pytest.mark.parametrize("slug", sorted(catalogue()))
def test_a_part_of_every_kind_is_placed_on_the_grid(slug):
    diagram = apply(Boat().diagram(), place_edit(Boat().diagram(), slug, (51.2, 48.9), 90))
    (component,) = diagram.components.values()
    assert component.id.startswith(catalogue()[slug].letter)
    assert (component.kind, component.at, component.turn) == (slug, (50.0, 50.0), 90)
    assert component.id in placed_parts(diagram)


def test_the_step_says_what_was_placed():
    assert place_edit(Boat().diagram(), "battery_switch", (0, 0)).label == "Place battery switch Q1"


def test_a_stored_path_follows_a_moved_part(small_boat):
    before = wired(small_boat)
    after = apply(before, move_edit(before, ["F1"], 12.4, 21.0))
    assert after.components["F1"].at == (132.5, 80.0)
    assert_paths_end_on_their_terminals(after)


def test_a_path_between_two_moved_parts_keeps_its_form(small_boat):
    before = wired(small_boat)
    after = apply(before, move_edit(before, ["G1", "F1"], 10, 20))
    old, new = (d.conductors["W1"].path.points for d in (before, after))
    assert new == tuple((x + 10, y + 20) for x, y in old)
    assert_paths_end_on_their_terminals(after)


def test_bends_by_hand_are_kept_when_an_end_moves(small_boat):
    before = wired(small_boat)
    start, *_, finish = before.conductors["W2"].path.points
    middle = start[1] + 40
    bent = apply(before, bend_edit(before, "W2", (
        start, (start[0] + 5, start[1]), (start[0] + 5, middle), (finish[0] - 5, middle),
        (finish[0] - 5, finish[1]), finish)))
    after = apply(bent, move_edit(bent, ["Q1"], 20, 5))
    path = after.conductors["W2"].path
    assert path.by_hand
    assert [y for _, y in path.points].count(middle) == 2
    assert path.points[1] == bent.conductors["W2"].path.points[1]
    assert_paths_end_on_their_terminals(after)


def test_bends_by_hand_move_along_when_both_ends_move(small_boat):
    before = wired(small_boat)
    start, *_, finish = before.conductors["W2"].path.points
    low = start[1] + 40
    bent = apply(before, bend_edit(before, "W2", (
        start, (start[0] + 5, start[1]), (start[0] + 5, low), (finish[0] - 5, low),
        (finish[0] - 5, finish[1]), finish)))
    after = apply(bent, move_edit(bent, ["F1", "Q1"], 0, 10))
    assert after.conductors["W2"].path.by_hand
    assert [y for _, y in after.conductors["W2"].path.points].count(low + 10) == 2


@pytest.mark.parametrize("edit_of", [
    lambda d: turn_edit(d, ["F1"]),
    lambda d: turn_edit(d, ["F1", "Q1"], 180),
    lambda d: mirror_edit(d, ["F1"]),
    lambda d: mirror_edit(d, ["G1", "F1", "Q1"]),
    lambda d: move_edit(d, ["F1"], -40, 55),
])
def test_conductors_stay_on_their_terminals_and_undo_gives_the_same_bytes(small_boat, edit_of):
    before = wired(small_boat)
    edit = edit_of(before)
    after = apply(before, edit)
    assert after != before
    assert_paths_end_on_their_terminals(after)
    assert dumps(apply(after, inverse(edit))) == dumps(before)


def test_four_turns_are_none(small_boat):
    diagram = small_boat
    for _ in range(4):
        diagram = apply(diagram, turn_edit(diagram, ["F1"]))
    assert diagram == small_boat


def test_mirrored_twice_is_not_mirrored(small_boat):
    diagram = small_boat
    for _ in range(2):
        diagram = apply(diagram, mirror_edit(diagram, ["F1", "E1"]))
    assert diagram == small_boat


def test_a_part_without_a_place_on_the_sheet_is_left_alone():
    diagram = Boat().fuse("F1").diagram()
    for edit in (move_edit(diagram, ["F1"], 5, 5), turn_edit(diagram, ["F1"]),
                 mirror_edit(diagram, ["F1"])):
        assert edit.is_empty()


def test_a_field_set_and_made_unknown_again_leaves_no_trace(small_boat):
    set_edit = field_edit(small_boat, "F1", "rated_a", 30.0, "maker")
    after = apply(small_boat, set_edit)
    assert set_edit.label.startswith("Set ") and set_edit.label.endswith(" of F1")
    assert after.components["F1"].parameters["rated_a"] == 30.0
    assert after.components["F1"].known["rated_a"] == "maker"
    again = apply(after, field_edit(after, "F1", "rated_a", None, "maker"))
    assert again == small_boat
