"""Lithium banks: which batteries belong together, in stages, and what they stand together."""

from __future__ import annotations

import pytest

from model.analysis.lithium_banks import LithiumBank, bank_of, lithium_banks, stated_limit
from model.diagram import Component
from model.graph import TerminalGraph
from tests.boat_builder import Boat

LFP = {"chemistry": "lfp"}


def graph_of(boat: Boat) -> TerminalGraph:
    return TerminalGraph(boat.diagram())


def stages(bank: LithiumBank) -> list[list[str]]:
    return [[battery.id for battery in stage] for stage in bank.stages]


def charge_a(battery: Component) -> float | None:
    return battery.parameters.get("max_charge_a")


def test_packs_join_over_fuses_and_not_over_switches() -> None:
    boat = Boat().battery("G1", **LFP).battery("G2", **LFP).battery("G3", **LFP)
    boat.fuse("F1", 100).switch("Q1").wire("W1", "G1.+", "F1.a").wire("W2", "F1.b", "G2.+")
    boat.wire("W3", "G2.+", "Q1.a").wire("W4", "Q1.b", "G3.+")
    graph = graph_of(boat)
    assert [bank.ids for bank in lithium_banks(graph)] == [("G1", "G2"), ("G3",)]
    assert bank_of(graph, "G3").ids == ("G3",)


def test_lead_and_what_is_stored_belong_to_no_bank() -> None:
    boat = Boat().battery("G1", chemistry="agm").battery("G2", **LFP, stored=True)
    assert lithium_banks(graph_of(boat)) == ()


def test_two_strings_of_two_are_two_stages_of_two() -> None:
    boat = Boat()
    for item in ("G1", "G2", "G3", "G4"):
        boat.battery(item, **LFP, max_charge_a=50)
    boat.wire("W1", "G1.-", "G3.+").wire("W2", "G2.-", "G4.+").wire("W3", "G1.+", "G2.+")
    boat.wire("W4", "G3.-", "G4.-", cores=("-",))
    (bank,) = lithium_banks(graph_of(boat))
    assert stages(bank) == [["G1", "G2"], ["G3", "G4"]]
    assert (bank.series_count, bank.parallel_count) == (2, 2)
    assert (bank.limit_a(charge_a), bank.limit_with_one_out_a(charge_a)) == (100, 50)


def test_the_largest_pack_is_the_one_that_is_out() -> None:
    boat = Boat().battery("G1", **LFP, max_charge_a=90, parallel_count=3)
    boat.battery("G2", **LFP, max_charge_a=50).wire("W1", "G1.+", "G2.+")
    (bank,) = lithium_banks(graph_of(boat))
    assert bank.parallel_count == 4
    assert (bank.limit_a(charge_a), bank.limit_with_one_out_a(charge_a)) == (140, 90)


def test_a_single_pack_is_never_out_and_an_unknown_limit_is_no_limit() -> None:
    boat = Boat().battery("G1", **LFP, max_charge_a=50).battery("G2", **LFP)
    one, other = lithium_banks(graph_of(boat))
    assert (one.limit_a(charge_a), one.limit_with_one_out_a(charge_a)) == (50, 50)
    assert (other.limit_a(charge_a), other.limit_with_one_out_a(charge_a)) == (None, None)


@pytest.mark.parametrize(("unit_a", "expected"), [(60, 60), (200, 100)])
def test_packs_side_by_side_share_what_their_unit_allows(unit_a: float, expected: float) -> None:
    boat = Boat().part("A1", "battery_management_unit", charge_limit_a=unit_a)
    for item in ("G1", "G2"):
        boat.battery(item, **LFP, max_charge_a=50, management_unit="A1")
    boat.wire("W1", "G1.+", "G2.+")
    graph = graph_of(boat)
    (bank,) = lithium_banks(graph)
    limit = stated_limit(graph.diagram, bank, "max_charge_a", "charge_limit_a")
    assert bank.limit_a(limit) == expected


def test_of_a_ring_of_batteries_any_one_is_the_highest() -> None:
    boat = Boat().battery("G1", **LFP).battery("G2", **LFP)
    boat.wire("W1", "G1.-", "G2.+").wire("W2", "G2.-", "G1.+")
    (bank,) = lithium_banks(graph_of(boat))
    assert stages(bank) == [["G1"], ["G2"]]
