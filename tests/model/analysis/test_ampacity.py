"""Ampacity by the rule set's table, and its bounds when not all is stated.

Figures: rows of the shipped tables (33 CFR 183.425 table 5; ISO 13297 annex A, from memory).
"""

from __future__ import annotations

from typing import Any

import pytest

from model.analysis.ampacity import RuleSet, ampacity
from model.analysis.ampacity_range import ampacity_range, insulation_classes_c
from model.tables import allowable_a, bundle_factor, engine_space_factor
from tests.boat_builder import Boat, size

SIZES: dict[RuleSet, str] = {"us": "8 awg", "iso": "10 mm2"}


def boat_with(**wire: Any) -> Any:
    boat = Boat().battery("G1").load("E1").wire("W1", "G1.+", "E1.+", **wire)
    diagram = boat.diagram()
    return diagram.conductors["W1"], diagram


@pytest.mark.parametrize("rule_set", ["us", "iso"])
def test_the_table_times_its_factors_times_the_cables_side_by_side(rule_set: RuleSet) -> None:
    wire, diagram = boat_with(
        wire_size=SIZES[rule_set], insulation_c=105, engine_space_m=1, bundle_count=5,
        parallel_count=2)
    expected = (allowable_a(rule_set, size(SIZES[rule_set]), 105).value
                * engine_space_factor(rule_set, 105).value
                * bundle_factor(rule_set, 5).value * 2)
    assert ampacity(wire, diagram, rule_set).value_a == pytest.approx(expected)


def test_what_is_missing_is_named() -> None:
    wire, diagram = boat_with()
    assert ampacity(wire, diagram, "us").missing == ("size", "insulation_c")


@pytest.mark.parametrize("rule_set", ["us", "iso"])
def test_without_an_insulation_class_the_bounds_are_those_of_the_table(rule_set: RuleSet) -> None:
    wire, diagram = boat_with(wire_size=SIZES[rule_set], engine_space_m=0)
    classes = insulation_classes_c(rule_set)
    found = ampacity_range(wire, diagram, rule_set)
    printed = size(SIZES[rule_set])
    assert found.low_a == allowable_a(rule_set, printed, classes[0]).value
    assert found.high_a == allowable_a(rule_set, printed, classes[-1]).value
    assert found.missing == ("insulation_c",)


def test_what_is_known_whole_has_equal_bounds() -> None:
    wire, diagram = boat_with(wire_size="8 awg", insulation_c=105, engine_space_m=0)
    found = ampacity_range(wire, diagram, "us")
    assert found.low_a == found.high_a == ampacity(wire, diagram, "us").value_a
    assert found.missing == ()


def test_a_size_beyond_the_table_has_an_unconfirmed_bound() -> None:
    wire, diagram = boat_with(wire_size="400 mm2", insulation_c=105, engine_space_m=0)
    found = ampacity_range(wire, diagram, "us")
    assert found.low_a == allowable_a("us", size("4/0 awg"), 105).value
    assert not found.confirmed and not found.missing


def test_insulation_that_the_heat_of_an_engine_space_rules_out_is_named() -> None:
    """ISO 13297 annex A, remark: 60 °C insulation is not permitted in engine spaces."""
    wire, diagram = boat_with(wire_size="6 mm2", insulation_c=60, engine_space_m=1)
    found = ampacity_range(wire, diagram, "iso")
    assert (found.low_a, found.missing) == (None, ("insulation_c",))


def test_without_a_size_there_is_no_bound() -> None:
    wire, diagram = boat_with(insulation_c=105, engine_space_m=0)
    assert ampacity_range(wire, diagram, "us").missing == ("size",)
