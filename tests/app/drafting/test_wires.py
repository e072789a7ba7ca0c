"""Connecting terminals: which cores the conductor gets, and what is refused and why."""

from __future__ import annotations

import pytest

from app.drafting.wires import (
    NotConnectable,
    bend_edit,
    connect_edit,
    leg_moved,
    reroute_edit,
    wire_field_edit,
)
from app.drawing.sheet import sheet_drawing
from model.diagram import SheetPath
from model.edits import apply, changed
from model.errors import ModelError
from model.kinds import catalogue
from tests.boat_builder import Boat
from tests.overlaps import overlaps
from tests.tidied import tidied


def boat_of(*kinds):
    """A boat with one part of each kind, P1, P2 and so on, in a row."""
    boat = Boat()
    for number, kind in enumerate(kinds, start=1):
        boat.part(f"P{number}", kind, at=(70 * number, 60))
    return boat.diagram()


def joined(diagram, first, second):
    after = apply(diagram, connect_edit(diagram, first, second))
    return after.conductors["W1"]


@pytest.mark.parametrize(("first", "second", "cores", "purpose"), [
    (("battery_bank", "+"), ("fuse", "a"), ("+",), None),
    (("battery_bank", "-"), ("shunt", "a"), ("-",), None),
    (("battery_bank", "-"), ("engine_block", "n1"), ("-",), None),
    (("fuse", "b"), ("load", "+"), ("+",), None),
    (("panel", "w3"), ("lamp", "+"), ("+",), None),
    (("shore_inlet", "ac"), ("ac_breaker", "a"), ("L", "N", "E"), None),
    (("ac_breaker", "b"), ("shore_charger", "ac"), ("L", "N", "E"), None),
    (("regulator", "field"), ("alternator", "field"), ("signal",), "control"),
    (("shunt", "sense"), ("monitor", "sense"), ("signal",), "sense"),
    (("bonding_bus", "n"), ("fuel_tank", "n"), ("E",), "bonding"),
    (("fuse", "b"), ("relay", "coil+"), ("+",), "control"),
    (("push_button", "b"), ("starter", "signal"), ("+",), "control"),
    (("relay", "coil-"), ("engine_block", "n1"), ("-",), "control"),
])
def test_the_cores_follow_from_the_terminals(first, second, cores, purpose):
    diagram = boat_of(first[0], second[0])
    for one, two in ((("P1", first[1]), ("P2", second[1])), (("P2", second[1]), ("P1", first[1]))):
        wire = joined(diagram, one, two)
        assert (wire.cores, wire.purpose) == (cores, purpose)
        assert (wire.start.component, wire.finish.component) == (one[0], two[0])


def test_a_series_link_joins_a_minus_to_a_plus():
    wire = joined(boat_of("battery_bank", "battery_bank"), ("P1", "-"), ("P2", "+"))
    assert len(wire.cores) == 1
    assert wire.purpose is None


def test_the_path_begins_and_ends_on_the_terminals_and_is_not_by_hand(small_boat):
    wire = joined(small_boat, ("G1", "+"), ("F1", "a"))
    assert len(wire.path.points) >= 2
    assert not wire.path.by_hand


@pytest.mark.parametrize(("first", "second"), [
    (("battery_bank", "+"), ("ac_breaker", "a")),
    (("shunt", "sense"), ("shore_inlet", "ac")),
    (("shore_inlet", "ac"), ("battery_bank", "-")),
    (("fuel_tank", "n"), ("shore_inlet", "ac")),
    (("bonding_bus", "n"), ("fuse", "a")),
])
def test_what_has_no_core_in_common_is_refused_with_both_names(first, second):
    diagram = boat_of(first[0], second[0])
    with pytest.raises(NotConnectable) as told:
        apply(diagram, connect_edit(diagram, ("P1", first[1]), ("P2", second[1])))
    for name in (f"P1, {first[1]}", f"P2, {second[1]}", "no core in common"):
        assert name in told.value.sentence


def test_a_terminal_is_not_connected_to_itself(small_boat):
    with pytest.raises(NotConnectable, match="same terminal"):
        connect_edit(small_boat, ("F1", "a"), ("F1", "a"))


def test_a_terminal_that_is_not_there_is_refused(small_boat):
    with pytest.raises(ModelError):
        connect_edit(small_boat, ("F1", "c"), ("Q1", "a"))


def test_whatever_connects_fits_the_model():
    """Each pair of first terminals of all kinds: either refused, or a conductor that is valid."""
    kinds = sorted(catalogue())
    refused = made = 0
    for kind in kinds:
        diagram = boat_of("battery_switch", kind)
        for port in catalogue()[kind].ports({}):
            try:
                edit = connect_edit(diagram, ("P1", "b"), ("P2", port.id))
            except NotConnectable:
                refused += 1
                continue
            apply(diagram, edit)
            made += 1
    assert made > len(kinds) / 2 and refused > 0


def test_corners_by_hand_come_to_the_grid_and_the_ends_stay(small_boat):
    diagram = apply(small_boat, connect_edit(small_boat, ("F1", "b"), ("Q1", "a")))
    start, *_, finish = diagram.conductors["W1"].path.points
    after = apply(diagram, bend_edit(diagram, "W1", (
        start, (start[0] + 4.9, start[1]), (start[0] + 4.9, 81.2), (finish[0], 81.2), finish)))
    path = after.conductors["W1"].path
    assert path.by_hand
    assert path.points[0] == start and path.points[-1] == finish
    assert {y for _, y in path.points} >= {80.0}


def test_a_leg_slides_sideways_with_its_neighbours():
    path = ((0.0, 0.0), (10.0, 0.0), (10.0, 20.0), (30.0, 20.0))
    assert leg_moved(path, 1, (14.0, 7.0)) == ((0.0, 0.0), (15.0, 0.0), (15.0, 20.0), (30.0, 20.0))


def test_a_straight_line_gets_a_step_and_keeps_its_ends():
    moved = leg_moved(((0.0, 0.0), (40.0, 0.0)), 0, (20.0, 10.0))
    assert moved[0] == (0.0, 0.0) and moved[-1] == (40.0, 0.0)
    assert moved[1:-1] == ((0.0, 10.0), (40.0, 10.0))


def test_routing_anew_forgets_the_bends(small_boat):
    diagram = apply(small_boat, connect_edit(small_boat, ("F1", "b"), ("Q1", "a")))
    start, *_, finish = diagram.conductors["W1"].path.points
    bent = apply(diagram, bend_edit(diagram, "W1", (
        start, (start[0], 100.0), (finish[0], 100.0), finish)))
    assert apply(bent, reroute_edit(bent, ["W1"])) == diagram


def test_several_conductors_are_routed_anew_together_and_the_others_stay():
    diagram = tidied("refitta")
    crooked = {}
    for item in ("W81", "W51"):
        start, *_, finish = diagram.conductors[item].path.points
        points = (start, (start[0], 20.0), (finish[0], 20.0), finish)
        crooked[item] = changed(
            diagram.conductors[item], path=SheetPath(points=points, by_hand=True))
    bent = diagram.replaced(conductors=diagram.conductors.with_items(crooked.items()))
    after = apply(bent, reroute_edit(bent, ["W81", "W51"]))
    for item, wire in after.conductors.items():
        if item not in crooked:
            assert wire == bent.conductors[item]
    assert overlaps(after, sheet_drawing(after)) == []
    assert not any(after.conductors[item].path.by_hand for item in crooked)


def test_a_field_of_a_conductor_is_set_and_made_unknown(small_boat):
    diagram = apply(small_boat, connect_edit(small_boat, ("F1", "b"), ("Q1", "a")))
    after = apply(diagram, wire_field_edit(diagram, "W1", "length_m", 3.5, "measured"))
    assert (after.conductors["W1"].length_m, after.conductors["W1"].known["length_m"]) == (
        3.5, "measured")
    assert apply(after, wire_field_edit(after, "W1", "length_m", None)) == diagram


def test_the_step_that_sets_a_field_is_called_as_the_form_calls_it(small_boat):
    diagram = apply(small_boat, connect_edit(small_boat, ("F1", "b"), ("Q1", "a")))
    edit = wire_field_edit(diagram, "W1", "length_m", 3.5, title="Length, one way")
    assert edit.label == "Set length of W1"
