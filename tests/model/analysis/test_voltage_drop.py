"""Voltage drop against the formula written out: twice the length, the sheet's resistance, I."""

from __future__ import annotations

import pytest

from model.analysis.voltage_drop import Drop
from model.diagram import Diagram
from model.survey import Survey
from tests.boat_builder import Boat

# Greatest resistance of plain class 5 conductors at 20 °C, IEC 60228 table 3. [ohm/km]
OHM_PER_KM = {"2.5 mm2": 7.98, "4 mm2": 4.95, "10 mm2": 1.91}
LAMP_A, PUMP_A = 4.0, 6.0


def boat(**system: str) -> Boat:
    """A bank, a feeder of 10 mm² to a block, and behind it a lamp and a pump."""
    return (
        Boat(**system).battery("G1", internal_resistance_ohm=0.004, rest_v=12.6)
        .part("X1", "terminal_block").load("E1", current_a=LAMP_A).load("E2", current_a=PUMP_A)
        .wire("W1", "G1.+", "X1.s1", "10 mm2", length_m=5)
        .wire("W2", "X1.s2", "E1.+", "2.5 mm2", length_m=6)
        .wire("W3", "X1.s3", "E2.+", "4 mm2", length_m=7)
    )


def drop_of(item: str, diagram: Diagram) -> Drop:
    (found,) = (drop for drop in Survey(diagram).drops if drop.item == item)
    return found


def ohm(size: str, length_m: float) -> float:
    return OHM_PER_KM[size] * length_m / 1000


def test_the_drop_adds_along_the_path_out_and_back_with_the_current_of_each_conductor() -> None:
    lamp = drop_of("E1", boat().diagram())
    # E = I (2 L) r along the feeder, which carries both loads, and along the lamp's own lead.
    feeder_v = (LAMP_A + PUMP_A) * ohm("10 mm2", 2 * 5)
    lead_v = LAMP_A * ohm("2.5 mm2", 2 * 6)
    assert lamp.drop_v == pytest.approx(feeder_v + lead_v, rel=2e-3)
    assert lamp.shares == pytest.approx({"W1": feeder_v, "W2": lead_v}, rel=2e-3)
    assert lamp.percent == pytest.approx(100 * (feeder_v + lead_v) / 12, rel=2e-3)
    assert (lamp.culprit, lamp.source, lamp.current_a) == ("W2", "G1", pytest.approx(LAMP_A))


def test_a_stated_return_length_takes_the_place_of_the_mirror() -> None:
    made = boat().wire("W2", "X1.s2", "E1.+", "2.5 mm2", length_m=6, return_length_m=2)
    lamp = drop_of("E1", made.diagram())
    expected_v = (LAMP_A + PUMP_A) * ohm("10 mm2", 2 * 5) + LAMP_A * ohm("2.5 mm2", 6 + 2)
    assert lamp.drop_v == pytest.approx(expected_v, rel=2e-3)


def test_drawn_returns_are_followed_and_counted_by_their_own_size() -> None:
    made = (
        boat(returns="drawn").part("X2", "terminal_block", pole="-")
        .wire("N1", "X2.s1", "G1.-", "10 mm2", cores=("-",), length_m=5)
        .wire("N2", "E1.-", "X2.s2", "4 mm2", cores=("-",), length_m=9)
        .wire("N3", "E2.-", "X2.s3", "4 mm2", cores=("-",), length_m=7)
    )
    lamp = drop_of("E1", made.diagram())
    both_a = LAMP_A + PUMP_A
    assert lamp.shares == pytest.approx({
        "W1": both_a * ohm("10 mm2", 5), "W2": LAMP_A * ohm("2.5 mm2", 6),
        "N1": both_a * ohm("10 mm2", 5), "N2": LAMP_A * ohm("4 mm2", 9)}, rel=2e-3)
    assert lamp.drop_v == pytest.approx(sum(lamp.shares.values()), rel=2e-3)


def test_a_pair_counts_both_its_cores() -> None:
    made = (
        Boat(returns="drawn").battery("G1").fuse("F1", 10).load("E1", current_a=LAMP_A)
        .wire("W1", "G1.+", "F1.a", "10 mm2", length_m=0.1)
        .wire("N1", "G1.-", "F1.a", "10 mm2", cores=("-",), length_m=0.1)
        .wire("W2", "F1.b", "E1.+", "2.5 mm2", cores=("+", "-"), length_m=6)
    )
    lamp = drop_of("E1", made.diagram())
    assert lamp.shares["W2"] == pytest.approx(LAMP_A * ohm("2.5 mm2", 2 * 6), rel=2e-3)
    assert lamp.drop_v == pytest.approx(sum(lamp.shares.values()), rel=2e-3)


def test_a_windlass_is_judged_while_it_runs_and_does_not_burden_the_lamp() -> None:
    made = boat().part("M5", "windlass", current_a=80).wire(
        "W4", "X1.s4", "M5.+", "10 mm2", length_m=3).diagram()
    windlass, lamp = drop_of("M5", made), drop_of("E1", made)
    all_a = LAMP_A + PUMP_A + 80
    assert windlass.case == "M5 running"
    assert windlass.drop_v == pytest.approx(
        all_a * ohm("10 mm2", 2 * 5) + 80 * ohm("10 mm2", 2 * 3), rel=2e-3)
    assert lamp.drop_v == pytest.approx(drop_of("E1", boat().diagram()).drop_v, rel=1e-3)


def test_what_is_not_recorded_is_named_and_the_rest_is_counted() -> None:
    made = boat().wire("W2", "X1.s2", "E1.+", "2.5 mm2").load("E1").diagram()
    lamp = drop_of("E1", made)
    assert lamp.missing == ("E1.current_a", "W2.length_m")
    assert lamp.drop_v == pytest.approx(PUMP_A * ohm("10 mm2", 2 * 5), abs=1e-3)


def test_what_nothing_feeds_has_no_drop() -> None:
    made = boat().load("E9", current_a=3).diagram()
    assert "E9" not in {drop.item for drop in Survey(made).drops}
