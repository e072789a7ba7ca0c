"""All faults from one factored network agree with the whole solver, terminal by terminal."""

from __future__ import annotations

import pytest

from model.analysis.fault_current import fault_current
from model.survey import Survey
from tests.boat_builder import Boat

CLOSE = 1e-4
BANK = {"internal_resistance_ohm": 0.005, "rest_v": 12.6}


def two_banks() -> Boat:
    """Two banks side by side, each with its fuse, on one bar with a load."""
    boat = Boat().battery("G1", **BANK).battery("G2", **BANK).busbar("X1").load("E1")
    boat.fuse("F1", 100).fuse("F2", 100)
    boat.wire("W1", "G1.+", "F1.a", "35 mm2", length_m=0.2)
    boat.wire("W2", "F1.b", "X1.s1", "35 mm2", length_m=1)
    boat.wire("W3", "G2.+", "F2.a", "35 mm2", length_m=0.2)
    boat.wire("W4", "F2.b", "X1.s2", "35 mm2", length_m=2)
    return boat.wire("W5", "X1.s3", "E1.+", "6 mm2", length_m=4)


@pytest.mark.parametrize("terminal", ["G1.+", "F1.b+", "X1.s1", "F2.a+", "E1.+"])
def test_both_figures_are_those_of_the_whole_solver(terminal: str) -> None:
    survey = Survey(two_banks().diagram())
    node, whole = survey.graph.number[terminal], fault_current(survey, terminal)
    assert survey.faults.strong.fault(node).current_a == pytest.approx(whole.i_max_a, rel=CLOSE)
    assert survey.faults.weak.fault(node).current_a == pytest.approx(whole.i_min_a, rel=CLOSE)


def test_each_fuse_carries_its_own_banks_share() -> None:
    survey = Survey(two_banks().diagram())
    node, whole = survey.graph.number["X1.s3"], fault_current(survey, "X1.s3")
    shares = {margin.device: margin.i_max_a for margin in whole.devices}
    for edge in survey.graph.edges:
        if edge.item in shares and edge.role == "overcurrent":
            through = survey.faults.strong.through_a(edge.index, node)
            assert through == pytest.approx(shares[edge.item], rel=CLOSE)


def test_what_is_not_stated_on_the_way_is_named() -> None:
    boat = two_banks().wire("W2", "F1.b", "X1.s1", "35 mm2")
    survey = Survey(boat.diagram())
    (fuse,) = [e for e in survey.graph.edges if e.item == "F1" and e.role == "overcurrent"]
    node = survey.graph.number["X1.s3"]
    assert survey.faults.unstated(["G1"], fuse.index, node) == ("W2.length_m",)


def test_a_bank_of_which_nothing_is_known_says_so() -> None:
    survey = Survey(Boat().battery("G1").fuse("F1", 10).wire(
        "W1", "G1.+", "F1.a", "6 mm2", length_m=1).diagram())
    assert survey.faults.resistances == {"G1": "unknown"}
    assert survey.faults.guessed(["G1"]) == []


def test_a_float_switch_counts_as_closed() -> None:
    boat = Boat().battery("G1", **BANK).fuse("F1", 10).switch("S1", "float_switch").load("E1")
    boat.wire("W1", "G1.+", "F1.a", "6 mm2", length_m=0.1)
    boat.wire("W2", "F1.b", "S1.a", "6 mm2", length_m=1)
    boat.wire("W3", "S1.b", "E1.+", "6 mm2", length_m=1)
    survey = Survey(boat.diagram())
    assert survey.faults.weak.fault(survey.graph.number["E1.+"]).current_a > 100
