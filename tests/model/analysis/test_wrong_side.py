"""Parts connected the wrong way round, by the walk from the batteries."""

from __future__ import annotations

from model.survey import Survey
from tests.boat_builder import Boat


def wrong(boat: Boat) -> list[tuple[str, str, tuple[str, ...]]]:
    return [(found.item, found.terminal, found.conductors)
            for found in Survey(boat.diagram()).wrong_sides]


def test_a_swapped_load_is_found_by_its_first_wrong_terminal() -> None:
    boat = Boat().battery("G1").load("E1")
    boat.wire("W1", "G1.+", "E1.-").wire("W2", "E1.+", "G1.-")
    assert wrong(boat) == [("E1", "+", ("W2",))]


def test_a_load_connected_right_or_not_at_all_is_not() -> None:
    boat = Boat().battery("G1").load("E1").load("E2")
    boat.wire("W1", "G1.+", "E1.+").wire("W2", "E1.-", "G1.-", cores=("-",))
    assert wrong(boat) == []


def test_between_two_blocks_of_a_string_the_higher_is_the_plus() -> None:
    boat = Boat(nominal_v=24).battery("G1").battery("G2").load("E1")
    boat.wire("L1", "G1.+", "G2.-", purpose="bank_link")
    boat.wire("W1", "G2.+", "E1.+").wire("W2", "E1.-", "G1.+")
    assert wrong(boat) == []
    boat.wire("W1", "G2.+", "E1.-").wire("W2", "E1.+", "G1.+")
    assert wrong(boat) == [("E1", "-", ("W1",))]


def test_a_reversed_panel_is_the_cause_and_its_loads_are_not_named() -> None:
    boat = Boat().battery("G1").panel("P1", {"rated_a": 10}).load("E1")
    boat.wire("W1", "G1.+", "P1.-").wire("W2", "P1.in", "G1.-").wire("W3", "P1.w1", "E1.+")
    assert wrong(boat) == [("P1", "in+", ("W2",))]


def test_what_has_no_minus_or_several_pluses_is_named_and_stays_as_it_is_drawn() -> None:
    boat = Boat().battery("G1").part("R1", "diode_isolator").part("T1", "dc_dc_converter")
    boat.load("E1").wire("W1", "G1.+", "E1.+").wire("W2", "G1.+", "T1.-")
    boat.wire("N1", "G1.-", "R1.in").wire("N2", "G1.-", "T1.out+").wire("N3", "G1.-", "T1.in+")
    assert [item for item, _, _ in wrong(boat)] == ["R1", "T1"]
    assert Survey(boat.diagram()).as_meant().diagram == boat.diagram()
