"""Batteries that can be joined: any position, direction of diodes, converters as walls."""

from __future__ import annotations

from model.analysis.joinable import joinable, joinable_by_hand, joined_ways, post_v
from model.graph import TerminalGraph
from tests.boat_builder import Boat


def joined(boat: Boat, battery: str) -> dict[str, list[str]]:
    """Return the parts that work a contact on the way to each other battery."""
    graph = TerminalGraph(boat.diagram())
    return {other: [e.owner for e in way if e.role in ("contact", "diode")]
            for other, way in joinable(graph, battery).items()}


def two() -> Boat:
    return Boat().battery("G1").battery("G2")


def test_an_open_link_may_be_closed() -> None:
    boat = two().switch("Q3", "emergency_link").wire("W1", "G1.+", "Q3.a").wire(
        "W2", "Q3.b", "G2.+")
    assert joined(boat, "G1") == {"G2": ["Q3"]}


def test_a_selector_joins_both_at_its_middle_position() -> None:
    boat = two().part("Q1", "selector_switch").wire("W1", "G1.+", "Q1.1").wire(
        "W2", "Q1.2", "G2.+")
    assert joined(boat, "G1") == {"G2": ["Q1", "Q1"]}


def test_a_change_over_joins_either_bank_to_what_it_feeds_and_never_the_two() -> None:
    boat = two().battery("G3").part("Q1", "selector_switch", role="changeover")
    boat.wire("W1", "G1.+", "Q1.1").wire("W2", "Q1.2", "G2.+").wire("W3", "Q1.c", "G3.+")
    assert joined(boat, "G3") == {"G1": ["Q1"], "G2": ["Q1"]}
    boat = two().part("Q1", "selector_switch", role="changeover").load("E1")
    boat.wire("W1", "G1.+", "Q1.1").wire("W2", "Q1.2", "G2.+").wire("W3", "Q1.c", "E1.+")
    assert joined(boat, "G1") == {}


def test_by_hand_an_emergency_link_a_relay_and_a_diode_do_not_count() -> None:
    for kind, ends in (("emergency_link", ("a", "b")), ("voltage_sensing_relay", ("a", "b")),
                       ("diode_isolator", ("in", "out1"))):
        boat = two().part("K1", kind).switch("Q1")
        boat.wire("W1", "G1.+", f"K1.{ends[0]}").wire("W2", f"K1.{ends[1]}", "G2.+")
        assert joinable_by_hand(TerminalGraph(boat.diagram()), "G1") == {}
        boat.wire("W3", "G1.+", "Q1.a").wire("W4", "Q1.b", "G2.+")
        assert list(joinable_by_hand(TerminalGraph(boat.diagram()), "G1")) == ["G2"]


def test_a_converter_joins_nothing_and_a_diode_one_way_only() -> None:
    boat = two().part("T1", "dc_dc_charger").wire("W1", "G1.+", "T1.in+").wire(
        "W2", "T1.out+", "G2.+")
    assert joined(boat, "G1") == {}
    boat = two().part("R1", "diode_isolator").wire("W1", "G1.+", "R1.in").wire(
        "W2", "R1.out1", "G2.+")
    assert joined(boat, "G1") == {"G2": ["R1"]}
    assert joined(boat, "G2") == {}


def test_a_way_ends_at_the_first_battery() -> None:
    boat = two().battery("G3").wire("W1", "G1.+", "G2.+").wire("W2", "G2.+", "G3.+")
    assert joined(boat, "G1") == {"G2": []}


def test_the_upper_battery_of_a_string_adds_to_the_lower() -> None:
    graph = TerminalGraph(two().wire("W1", "G1.+", "G2.-").diagram())
    assert post_v(graph, "G1") == 12
    assert post_v(graph, "G2") == 24


def test_posts_joined_by_a_relay_have_their_own_volts() -> None:
    boat = Boat().battery("G1").battery("G2", series_count=2).part("K1", "voltage_sensing_relay")
    graph = TerminalGraph(boat.wire("W1", "G1.+", "K1.a").wire("W2", "K1.b", "G2.+").diagram())
    assert (post_v(graph, "G1"), post_v(graph, "G2")) == (12, 24)


def test_what_stands_joined_depends_on_the_positions_and_not_on_volts() -> None:
    boat = two().switch("Q3", "emergency_link").wire("W1", "G1.+", "Q3.a").wire(
        "W2", "Q3.b", "G2.+")
    graph = TerminalGraph(boat.diagram())
    assert joined_ways(graph, "G1", {}) == {}
    assert set(joined_ways(graph, "G1", {"Q3": "on"})) == {"G2"}
    boat = two().part("K1", "voltage_sensing_relay").wire("W1", "G1.+", "K1.a").wire(
        "W2", "K1.b", "G2.+")
    assert joined_ways(TerminalGraph(boat.diagram()), "G1", {}) == {}
