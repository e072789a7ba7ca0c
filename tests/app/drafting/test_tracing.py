"""Untraced ends: drawn where a conductor is lost, and gone where it is found."""

from __future__ import annotations

import pytest

from app.drafting.branching import join_edit, lost_edit
from app.drafting.wires import NotConnectable
from model.edits import apply, changed, inverse
from model.kinds import catalogue
from model.storage.save import dumps
from model.validity import check_diagram
from tests.boat_builder import Boat


def boat():
    return (Boat().battery("G1", at=(60, 60)).fuse("F1", 30, at=(120, 60))
            .load("E1", at=(200, 60)).part("T1", "shore_charger", at=(60, 150))
            .part("P1", "ac_panel", at=(160, 150)).diagram())


def done(diagram, edit):
    after = apply(diagram, edit)
    check_diagram(after)
    assert dumps(apply(after, inverse(edit))) == dumps(diagram), "one step, and it goes back whole"
    return after


def lost(diagram, start=("F1", "b"), at=(160, 100)):
    return done(diagram, lost_edit(diagram, start, at))


def test_a_conductor_led_into_the_unknown_ends_in_a_ring_of_its_pole():
    after = lost(boat(), ("E1", "-"))
    assert (after.components["X1"].kind, after.components["X1"].parameters["pole"]) == (
        "untraced_end", "-")
    assert after.conductors["W1"].path is not None


def test_an_ac_cable_keeps_its_cores():
    after = lost(boat(), ("T1", "ac"))
    assert after.conductors["W1"].cores == ("L", "N", "E")
    found = done(after, join_edit(after, ("X1", "end"), ("P1", "w1")))
    assert found.conductors["W1"].cores == ("L", "N", "E")


@pytest.mark.parametrize("begins_at_the_ring", [True, False])
def test_what_is_known_of_it_stays_when_it_is_traced(begins_at_the_ring):
    diagram = lost(boat())
    wire = changed(diagram.conductors["W1"], colour="red", length_m=2.5)
    diagram = diagram.replaced(conductors=diagram.conductors.with_item("W1", wire))
    ends = (("X1", "end"), ("E1", "+"))
    after = done(diagram, join_edit(diagram, *(ends if begins_at_the_ring else ends[::-1])))
    traced = after.conductors["W1"]
    assert "X1" not in after.components and len(after.conductors) == 1
    assert (traced.colour, traced.length_m) == ("red", 2.5)
    assert [end.component for end in traced.ends()] == ["F1", "E1"]


def test_two_untraced_conductors_that_turn_out_to_be_one_are_joined():
    diagram = lost(lost(boat()), ("E1", "+"), (180, 120))
    after = done(diagram, join_edit(diagram, ("X1", "end"), ("X2", "end")))
    assert len(after.conductors) == 1
    assert {end.component for end in after.conductors["W1"].ends()} == {"F1", "E1"}
    assert not {"X1", "X2"} & set(after.components)


def test_a_control_line_may_turn_out_to_be_a_plus():
    diagram = Boat().battery("G1", at=(60, 60)).part("K1", "contactor", at=(160, 60)).diagram()
    port = next(port.id for port in catalogue()["contactor"].ports({})
                if set(port.poles) == {"signal"})
    after = lost(diagram, ("K1", port))
    found = done(after, join_edit(after, ("X1", "end"), ("G1", "+")))
    assert found.conductors["W1"].cores == ("+",)
    assert found.conductors["W1"].purpose == "control"


def test_it_cannot_be_traced_to_where_it_begins():
    diagram = lost(boat())
    with pytest.raises(NotConnectable):
        join_edit(diagram, ("X1", "end"), ("F1", "b"))


def test_drawn_on_into_the_unknown_the_end_only_moves():
    diagram = lost(boat())
    after = done(diagram, lost_edit(diagram, ("X1", "end"), (180, 120)))
    assert after.components["X1"].at == (180, 120) and len(after.conductors) == 1
