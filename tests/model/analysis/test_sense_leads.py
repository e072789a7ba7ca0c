"""Thin wires to meters, followed back to where they start."""

from __future__ import annotations

from model.analysis.sense_leads import SenseLead
from model.survey import Survey
from tests.boat_builder import Boat


def leads(boat: Boat) -> list[tuple[str, str, tuple[str, ...], str]]:
    survey = Survey(boat.diagram())
    found: tuple[SenseLead, ...] = survey.sense_leads
    return [(lead.meter, lead.device, lead.conductors, survey.graph.names[lead.node])
            for lead in found]


def test_a_lead_without_a_fuse_is_whole() -> None:
    boat = Boat().battery("G1").part("D1", "monitor").wire("W1", "G1.+", "D1.+")
    assert leads(boat) == [("D1", "", ("W1",), "G1.+")]


def test_a_lead_with_a_fuse_is_what_lies_before_it() -> None:
    boat = Boat().battery("G1").fuse("F1", 2).part("D1", "monitor")
    boat.wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "D1.+")
    assert leads(boat) == [("D1", "F1", ("W1",), "G1.+")]


def test_a_way_of_a_panel_leaves_nothing_before_its_device() -> None:
    boat = Boat().battery("G1").panel("P1", {"rated_a": 2}).part("D1", "monitor")
    boat.wire("W1", "G1.+", "P1.in").wire("W2", "P1.w1", "D1.+")
    assert leads(boat) == [("D1", "P1.w1", (), "P1.bus+")]


def test_wires_of_signal_cores_and_of_that_purpose_are_followed_too() -> None:
    boat = Boat().battery("G1").part("A1", "regulator").load("E1", "box").load("E2", "box")
    boat.wire("W1", "G1.+", "A1.sense", cores=("signal",))
    boat.wire("W2", "G1.+", "E1.+", purpose="data").wire("W3", "G1.+", "E2.+")
    assert [lead[0] for lead in leads(boat)] == ["A1", "E1"]
