"""The walk list: what was lost first, then what settles most, place by place, nothing twice."""

from __future__ import annotations

from rules.engine import Report
from rules.rule import CannotTell
from rules.walk_list import BOAT_PLACE, by_place, gathered, walk_list
from tests.boat_builder import Boat


def boat():
    return (Boat().place("bow", "dry_interior", name="Bow locker").fuse("F3", 30, place="bow")
            .battery("G1").load("E1", place="bow").part("X9", "untraced_end", place="bow")
            .wire("W12", "F3.b", "X9.end").wire("W1", "G1.+", "F3.a").diagram())


def waiting(*missing: tuple[str, ...]) -> Report:
    found = tuple(CannotTell("rule", "1.1", "overcurrent", "Title", "", (), fields)
                  for fields in missing)
    return Report((), found, (), len(found))


def test_an_untraced_conductor_comes_first_in_its_place():
    errands = walk_list(waiting(("E1.current_a",), ("E1.current_a",)), boat())
    assert [errand.item for errand in errands] == ["W12", "E1"]
    assert (errands[0].subject, errands[0].text) == ("W12 from F3", "find where it goes")
    assert errands[0].place == "Bow locker"


def test_the_fields_of_an_item_stand_in_the_order_of_what_they_settle():
    (errand,) = [e for e in walk_list(
        waiting(("W1.size", "W1.length_m"), ("W1.length_m",)), boat()) if e.item == "W1"]
    assert [(one.field, one.settles) for one in errand.wanted] == [("length_m", 2), ("size", 1)]
    assert errand.text == "length (2), size (1)"
    assert errand.subject == "W1 (G1 to F3)"


def test_a_check_that_waits_for_the_other_end_is_counted_there_and_not_twice():
    errands = [e for e in walk_list(waiting(("W12.to",)), boat()) if e.item == "W12"]
    assert len(errands) == 1 and errands[0].settles == 1


def test_in_a_drawing_of_what_is_planned_nothing_is_to_be_traced():
    diagram = boat()
    planned = diagram.replaced(boat=diagram.boat.replaced(status="planned"))
    assert not [errand for errand in walk_list(waiting(), planned) if errand.is_trace]


def test_what_has_no_place_comes_last_and_each_place_once():
    errands = walk_list(waiting(("G1.capacity_ah",), ("boat.length_m",), ("E1.current_a",)), boat())
    places = [place for place, _ in by_place(errands)]
    assert places == ["Bow locker", BOAT_PLACE, "Place not noted"]


def test_many_of_one_sort_are_one_round_and_few_are_not():
    boat = Boat().place("bow", "dry_interior", name="Bow locker").battery("G1")
    for number in range(1, 8):
        boat.load(f"E{number}", place="bow").wire(f"W{number}", "G1.+", f"E{number}.+")
    diagram = boat.diagram()
    few = [(f"E{number}.current_a",) for number in range(1, 4)]
    labels = [(f"E{number}.label_printed",) for number in range(1, 8)]
    (_, group), = by_place(walk_list(waiting(*few), diagram))
    assert gathered(group, diagram) == group
    (_, group), = by_place(walk_list(waiting(*few, *labels[3:]), diagram))
    told = [(errand.subject, errand.text) for errand in gathered(group, diagram)]
    assert told == [("E1", "current (1)"), ("E2", "current (1)"), ("E3", "current (1)"),
                    ("4 parts: E4, E5, E6, E7", "printed label (1)")]
