"""A bank's resistance by what is known, in order; its capacity at a current; its rest voltage."""

from __future__ import annotations

import pytest

from model.analysis.battery_model import (
    available_ah,
    peukert_exponent,
    resistance_ohm,
    rest_v,
)

EVERYTHING = {
    "block_nominal_v": 12, "chemistry": "flooded", "capacity_ah": 200.0, "cranking_a": 650.0,
    "short_circuit_a": 2000.0, "internal_resistance_ohm": 0.004,
}
ORDER = ("internal_resistance_ohm", "short_circuit_a", "cranking_a", "capacity_ah")


@pytest.mark.parametrize(("left_out", "basis"), [
    (0, "maker's resistance"), (1, "maker's short-circuit current"), (2, "cranking current"),
    (3, "chemistry and capacity"), (4, "unknown"),
])
def test_the_resistance_is_taken_from_the_best_figure_there_is_and_says_which(left_out, basis):
    known = {name: value for name, value in EVERYTHING.items() if name not in ORDER[:left_out]}
    assert resistance_ohm(known).basis == basis


def test_the_makers_short_circuit_current_gives_the_full_banks_rest_voltage_over_it():
    known = {"block_nominal_v": 12, "rest_v": 12.8, "short_circuit_a": 2000.0}
    assert resistance_ohm(known).value == pytest.approx(12.8 / 2000)


def test_chemistry_and_capacity_scale_a_block_of_12_v_and_100_ah():
    """5 milliohm for a flooded 12 V block of 100 Ah: an assumption, stated as such."""
    known = {"block_nominal_v": 12, "series_count": 2, "chemistry": "flooded", "capacity_ah": 200.0}
    assert resistance_ohm(known).value == pytest.approx(0.005 * 2 / 2)


def test_nothing_known_gives_nothing():
    assert resistance_ohm({}).value is None
    assert rest_v({}, 0.5).value is None
    assert available_ah({"chemistry": "flooded"}, 5).value is None
    assert available_ah({"chemistry": "other_lithium", "capacity_ah": 100}, 5).value is None


@pytest.mark.parametrize(("chemistry", "middle"), [
    ("flooded", 1.25), ("agm", 1.1), ("gel", 1.175), ("lfp", 1.05),
])
def test_the_exponent_is_the_middle_of_the_chemistrys_range(chemistry, middle):
    """Ranges of `battery_chemistry.csv`; the basis is its source."""
    found = peukert_exponent({"chemistry": chemistry})
    assert found.value == pytest.approx(middle)
    assert "PEUKERT" in found.basis


def test_a_slow_discharge_gives_the_stated_capacity_and_no_more():
    bank = {"chemistry": "agm", "capacity_ah": 100.0}
    assert available_ah(bank, 1).value == 100
    assert available_ah(bank, 5).value == 100
    assert available_ah(bank, 50).value < 100
