"""Charge paths with volts: what a bank receives, what it needs, and what takes the difference."""

from __future__ import annotations

import pytest

from model.analysis.charging_volts import BankCharge, charging_volts, needed_v
from model.survey import Survey
from tests.boat_builder import Boat

DROP_V, CAPACITY_AH = 0.8, 200.0


def bank(made: Boat, item: str) -> Boat:
    return made.battery(item, chemistry="flooded", capacity_ah=CAPACITY_AH,
                        internal_resistance_ohm=0.005)


def split(set_v: float = 14.4, length_m: float = 1.0, text: str = "35 mm2",
          drop_v: float = DROP_V) -> Boat:
    """An alternator that charges one bank through a silicon splitter."""
    return (
        bank(Boat(), "G1").part("M1", "engine_block")
        .part("G3", "alternator", rated_a=80, set_v=set_v, driven_by="M1")
        .part("R1", "diode_isolator", type="silicon", drop_v=drop_v)
        .wire("W1", "G3.+", "R1.in", "35 mm2", length_m=1)
        .wire("W2", "R1.out1", "G1.+", text, length_m=length_m)
    )


def received(made: Boat, item: str = "G1") -> BankCharge:
    return next(b for b in charging_volts(Survey(made.diagram())) if b.bank == item)


@pytest.mark.parametrize(("chemistry", "volts"), [
    ("flooded", 14.4), ("agm", 14.2), ("gel", 14.1), ("lfp", 14.0)])
def test_what_a_bank_needs_is_its_chemistrys_lowest_absorption_voltage(chemistry, volts):
    """`battery_chemistry.csv`."""
    assert needed_v({"chemistry": chemistry, "block_nominal_v": 12}) == pytest.approx(volts)
    assert needed_v({"chemistry": chemistry, "block_nominal_v": 12, "series_count": 2}) == (
        pytest.approx(2 * volts))
    assert needed_v({"block_nominal_v": 12}) is None


def test_behind_a_silicon_splitter_a_bank_is_short_by_about_the_drop():
    found = received(split())
    assert found.short_v == pytest.approx(DROP_V, abs=0.15)
    assert found.volts == pytest.approx(14.4 - found.short_v)
    assert found.sources == ("G3",)
    first, taken_v = found.takes[0]
    assert first == "R1" and taken_v == pytest.approx(DROP_V, abs=0.1)


def test_with_the_alternators_voltage_raised_by_the_drop_it_is_reached():
    found = received(split(set_v=14.4 + DROP_V))
    assert found.short_v == 0 and found.takes == ()
    assert found.volts == pytest.approx(14.4, abs=0.1)


def test_a_bank_without_a_path_has_no_source_and_stays_at_rest():
    found = received(bank(split(), "G2"), "G2")
    assert found.sources == () and found.takes == ()
    assert found.volts < 13
    assert found.short_v == pytest.approx(14.4 - found.volts)


def test_a_long_thin_lead_behind_a_splitter_of_little_drop_is_named_before_it():
    found = received(split(length_m=40, text="1.5 mm2", drop_v=0.1))
    assert [item for item, _ in found.takes][:2] == ["W2", "R1"]
    assert found.short_v > 1


def test_a_thin_lead_straight_from_the_alternator_is_the_first_taker():
    made = (
        bank(Boat(), "G1").part("M1", "engine_block")
        .part("G3", "alternator", rated_a=80, set_v=14.4, driven_by="M1")
        .wire("W1", "G3.+", "G1.+", "1.5 mm2", length_m=20)
    )
    found = received(made)
    assert found.short_v > 0.5
    assert found.takes[0][0] == "W1"


def test_a_bank_of_unknown_chemistry_has_no_need_to_fall_short_of():
    made = split()
    made.battery("G9", capacity_ah=100)
    found = received(made, "G9")
    assert found.needed_v is None and found.short_v == 0
