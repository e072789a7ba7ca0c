"""Batteries the wrong way round, each turned in a boat that says what is what."""

from __future__ import annotations

import pytest

from model.analysis.reversed_batteries import reversed_batteries
from model.diagram import Conductor, Diagram
from model.edits import changed
from model.storage import load
from model.survey import Survey
from tests.bench.figures import DEMO
from tests.boat_builder import Boat
from tests.boats import BOATS

MINUS = ("-",)
TURNED = {"+": "-", "-": "+"}


def turned(diagram: Diagram, *items: str) -> Diagram:
    """Return the diagram with some batteries changed over, the cores left as they were."""
    def other(wire: Conductor) -> Conductor:
        for side in ("start", "finish"):
            end = getattr(wire, side)
            if end.component in items:
                wire = changed(wire, **{side: changed(
                    end, terminal=TURNED.get(end.terminal, end.terminal))})
        return wire

    return diagram.replaced(conductors={
        item: other(wire) for item, wire in diagram.conductors.items()})


def batteries(diagram: Diagram) -> list[str]:
    return [part.id for part in diagram.components.values()
            if part.kind == "battery_bank" and part.stored is not True]


def told(diagram: Diagram) -> tuple[str, ...]:
    return reversed_batteries(Survey(diagram).graph)


def with_loads(boat: Boat) -> Boat:
    """Add two loads between the bars X1 and X2."""
    for item in ("E8", "E9"):
        boat.load(item).wire(f"W{item}", "X1.s6", f"{item}.+")
        boat.wire(f"N{item}", "X2.s6", f"{item}.-", cores=MINUS)
    return boat


def side_by_side(count: int) -> Diagram:
    boat = Boat(returns="drawn").busbar("X1").busbar("X2")
    for number in range(1, count + 1):
        item = f"G{number}"
        boat.battery(item).wire(f"W{item}", f"{item}.+", "X1.s1")
        boat.wire(f"N{item}", f"{item}.-", "X2.s1", cores=MINUS)
    return with_loads(boat).diagram()


def string(count: int) -> Diagram:
    boat = Boat(nominal_v=12.0 * count, returns="drawn").busbar("X1").busbar("X2")
    for number in range(1, count + 1):
        boat.battery(f"G{number}")
    for number in range(1, count):
        boat.wire(f"L{number}", f"G{number}.+", f"G{number + 1}.-", purpose="bank_link")
    boat.wire("W1", f"G{count}.+", "X1.s1").wire("N1", "G1.-", "X2.s1", cores=MINUS)
    return with_loads(boat).diagram()


@pytest.mark.parametrize("make", [side_by_side, string])
@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_each_battery_that_is_turned_is_told_and_no_other(make, count):
    right = make(count)
    assert told(right) == ()
    for item in batteries(right):
        assert told(turned(right, item)) == (item,)
    assert told(turned(right, *batteries(right))) == tuple(batteries(right))


@pytest.mark.parametrize("name", ["demo", *BOATS])
def test_so_it_is_on_whole_boats(name):
    right = load(DEMO) if name == "demo" else BOATS[name]()
    assert told(right) == ()
    for item in batteries(right):
        assert told(turned(right, item)) == (item,)


def test_two_that_are_joined_in_a_ring_cannot_be_told_apart():
    ring = Boat().battery("G1").battery("G2")
    ring.wire("L1", "G1.+", "G2.-").wire("L2", "G2.+", "G1.-")
    assert told(ring.diagram()) == ()


def test_a_load_that_is_turned_is_not_the_battery():
    boat = Boat(returns="drawn").battery("G1").load("E1")
    boat.wire("W1", "G1.+", "E1.-").wire("N1", "E1.+", "G1.-")
    assert told(boat.diagram()) == ()


def test_the_middle_of_a_bank_is_no_reason_to_turn_one():
    boat = Boat(nominal_v=24, returns="drawn").battery("G1").battery("G2")
    boat.wire("L1", "G1.+", "G2.-", purpose="bank_link")
    for item, plus, minus in (("E1", "G2.+", "G1.-"), ("E2", "G1.+", "G1.-"),
                              ("E3", "G2.+", "G1.+")):
        boat.load(item).wire(f"W{item}", plus, f"{item}.+")
        boat.wire(f"N{item}", minus, f"{item}.-", cores=MINUS)
    assert told(boat.diagram()) == ()


def test_three_in_series_where_one_belongs_are_not_one_reversed():
    long = string(3)
    in_12_v = long.replaced(systems={"S1": changed(long.systems["S1"], nominal_v=12.0)})
    assert told(in_12_v) == ()
    assert told(turned(in_12_v, "G2")) == ()


def test_of_a_bank_with_taps_nobody_can_say_how_to_turn_it():
    right = side_by_side(1)
    tapped = right.replaced(components={**right.components, "G1": changed(
        right.components["G1"], parameters={
            "block_nominal_v": 6, "series_count": 2, "taps": ({"id": "m", "after_block": 1},)})})
    assert told(turned(tapped, "G1")) == ()


def test_the_boat_as_meant_has_it_turned_right():
    right = side_by_side(2)
    assert Survey(right).as_meant().diagram is right
    assert Survey(turned(right, "G2")).as_meant().diagram == right
