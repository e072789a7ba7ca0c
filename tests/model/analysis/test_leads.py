"""Leads: where conductors become live from a battery without a device, and where they end."""

from __future__ import annotations

from typing import Any

from model.analysis.leads import Lead, is_covered, straight_end
from model.survey import Survey
from tests.boat_builder import Boat


def leads(boat: Boat) -> dict[str, Lead]:
    return {lead.conductor: lead for lead in Survey(boat.diagram()).leads}


def ends(lead: Lead) -> dict[str, Any]:
    return {end.item: end for end in lead.ends}


def test_lengths_in_series_are_added_up_to_the_first_device() -> None:
    boat = Boat().battery("G1").switch("Q1").fuse("F1").load("E1")
    boat.wire("W1", "G1.+", "Q1.a", length_m=0.4, sheath="whole")
    boat.wire("W2", "Q1.b", "F1.a", length_m=0.3, sheath="none").wire("W3", "F1.b", "E1.+")
    end = ends(leads(boat)["W1"])["F1"]
    assert end.length_m == 0.7
    assert end.conductors == ("W1", "W2")
    assert end.sheathed is False
    assert end.behind.loads == {"E1"}


def test_a_length_that_is_missing_is_named_and_the_rest_is_known() -> None:
    boat = Boat().battery("G1").switch("Q1").fuse("F1")
    boat.wire("W1", "G1.+", "Q1.a", length_m=0.4).wire("W2", "Q1.b", "F1.a")
    end = ends(leads(boat)["W1"])["F1"]
    assert (end.length_m, end.missing) == (0.4, ("W2",))
    assert end.unsaid == ("W1", "W2")


def test_a_device_on_the_post_counts_as_no_length() -> None:
    boat = Boat().battery("G1").fuse("F1", on_post=True)
    boat.wire("W1", "G1.+", "F1.a")
    assert ends(leads(boat)["W1"])["F1"].length_m == 0
    assert not ends(leads(boat)["W1"])["F1"].missing


def test_a_device_mounted_on_the_battery_counts_as_no_length_too() -> None:
    boat = Boat().battery("G1").fuse("F1", mounted_on="G1").wire("W1", "G1.+", "F1.a", length_m=1)
    assert ends(leads(boat)["W1"])["F1"].length_m == 0


def test_a_lead_of_two_batteries_in_parallel_is_one_lead() -> None:
    boat = Boat().battery("G1").battery("G2").load("E1")
    boat.wire("B1", "G1.+", "G2.+", purpose="bank_link").wire("W1", "G1.+", "E1.+")
    found = leads(boat)
    assert set(found) == {"W1"}
    assert found["W1"].batteries == ("G1", "G2")


def test_a_series_link_is_no_lead_that_reaches_anything() -> None:
    boat = Boat(nominal_v=24).battery("G1").battery("G2").load("E1")
    boat.wire("B1", "G1.+", "G2.-").wire("W1", "G2.+", "E1.+")
    assert leads(boat)["B1"].ends == ()
    assert set(ends(leads(boat)["W1"])) == {"E1"}


def test_a_feed_from_the_starter_circuit_is_told_from_one_of_the_post() -> None:
    boat = Boat().battery("G1").switch("Q1").part("M1", "starter").load("E1").load("E2")
    boat.busbar("X1").wire("W1", "G1.+", "X1.s1").wire("W2", "X1.s2", "Q1.a")
    boat.wire("W3", "Q1.b", "M1.+").wire("W4", "X1.s3", "E1.+").wire("W5", "G1.+", "E2.+")
    found = leads(boat)
    assert set(found) == {"W4", "W5"}
    assert found["W4"].from_starter
    assert not found["W5"].from_starter


def test_sense_leads_are_left_to_other_checks() -> None:
    boat = Boat().battery("G1").part("P1", "monitor").wire("W1", "G1.+", "P1.+", purpose="sense")
    assert leads(boat) == {}


def test_what_is_at_the_far_end_is_told_by_kind() -> None:
    boat = Boat().battery("G1").battery("G2").busbar("X1").part("T1", "solar_controller")
    boat.part("G3", "alternator").part("T2", "dc_dc_converter").part("R1", "diode_isolator")
    boat.part("K1", "voltage_sensing_relay").wire("W1", "G1.+", "X1.s1")
    boat.wire("W2", "X1.s2", "T1.out+").wire("W3", "X1.s3", "G3.+").wire("W4", "X1.s4", "T2.in+")
    boat.wire("W5", "X1.s5", "R1.out1").wire("W6", "X1.s6", "K1.a").wire("W7", "K1.b", "G2.+")
    kinds = {item: end.kind for item, end in ends(leads(boat)["W1"]).items()}
    assert kinds == {"X1": "bus", "T1": "charger", "G3": "alternator", "T2": "converter",
                     "R1": "diode", "G2": "battery"}
    assert ends(leads(boat)["W1"])["G2"].relays == ("K1",)


def test_a_battery_beyond_a_device_hides_what_that_battery_feeds() -> None:
    boat = Boat().battery("G1").battery("G2").fuse("F1").part("K1", "voltage_sensing_relay")
    boat.load("E1").wire("W1", "G1.+", "K1.a").wire("W2", "K1.b", "F1.a")
    boat.wire("W3", "F1.b", "G2.+").wire("W4", "G2.+", "E1.+")
    behind = ends(leads(boat)["W1"])["F1"].behind
    assert behind.batteries == {"G2"}
    assert not behind.loads


def test_a_conductor_is_covered_when_sheathed_whole_or_enclosed() -> None:
    boat = Boat().battery("G1").busbar("X1")
    said: tuple[dict[str, Any], ...] = (
        {"sheath": "whole"}, {"sheath": "part"}, {}, {"sheath": "none", "in_enclosure": True})
    for number, fields in enumerate(said):
        boat.wire(f"W{number}", "G1.+", "X1.s1", length_m=0.5, **fields)
    wires = boat.wire("W9", "G1.+", "X1.s1").diagram().conductors
    assert [is_covered(wires[f"W{number}"]) for number in range(4)] == [True, False, None, True]
    end, unmeasured = (straight_end(wires[item], "X1") for item in ("W0", "W9"))
    assert (end.kind, end.length_m, end.sheathed, end.missing) == ("bus", 0.5, True, ())
    assert (unmeasured.length_m, unmeasured.missing, unmeasured.unsaid) == (0, ("W9",), ("W9",))
