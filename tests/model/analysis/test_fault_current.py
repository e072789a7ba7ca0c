"""Fault currents against hand formulas: EMF over battery and loop, and what stands in the way."""

from __future__ import annotations

import math

import pytest

from model.analysis.fault_current import CONTACT_OHM, HOT_C, fault_current
from model.analysis.operating_point.build import DIODE_OHM, LEAST_OHM
from model.analysis.withstand import conductor_withstand_s, withstand_s
from model.survey import Survey
from model.tables import resistance_ohm_per_km
from tests.boat_builder import Boat, size

EMF_V, BANK_OHM = 12.6, 0.005
FAULT_OHM = 1e-5  # the solver's short is not quite nothing
CLOSE = 5e-3


def ohm(text: str, length_m: float, copper_c: float = 20) -> float:
    return resistance_ohm_per_km(size(text), copper_c).value * length_m / 1000


def bank(boat: Boat, item: str = "G1") -> Boat:
    return boat.battery(item, internal_resistance_ohm=BANK_OHM, rest_v=EMF_V)


def drawn() -> Boat:
    return bank(Boat(returns="drawn", negative_datum="X2.s1")).part("X2", "busbar", pole="-",
                                                                   stud_count=6)


def fused(**fields: object) -> Boat:
    return (
        drawn().fuse("F1", 100, **fields).load("E1", current_a=5, nominal_v=12)
        .wire("N0", "G1.-", "X2.s1", "35 mm2", cores=("-",), length_m=0.5)
        .wire("W1", "G1.+", "F1.a", "35 mm2", length_m=0.5, insulation_c=90)
        .wire("W2", "F1.b", "E1.+", "10 mm2", length_m=6, insulation_c=70)
        .wire("N2", "E1.-", "X2.s2", "10 mm2", cores=("-",), length_m=6)
    )


def loop_ohm(copper_c: float = 20) -> float:
    return 2 * ohm("35 mm2", 0.5, copper_c) + 2 * ohm("10 mm2", 6, copper_c)


def test_at_the_posts_the_battery_alone_limits_the_current():
    found = fault_current(Survey(fused().diagram()), "G1.+")
    assert found.i_max_a == pytest.approx(EMF_V / (BANK_OHM + FAULT_OHM), rel=1e-3)
    assert found.through == {}


def test_behind_a_fuse_the_battery_and_the_loop_limit_it():
    found = fault_current(Survey(fused().diagram()), "E1.+")
    by_hand = EMF_V / (BANK_OHM + loop_ohm() + LEAST_OHM + FAULT_OHM)
    assert found.i_max_a == pytest.approx(by_hand, rel=CLOSE)


def test_the_smallest_has_hot_copper_and_contacts_as_they_are():
    found = fault_current(Survey(fused().diagram()), "E1.+")
    by_hand = EMF_V / (BANK_OHM + loop_ohm(HOT_C) + CONTACT_OHM + FAULT_OHM)
    assert found.i_min_a == pytest.approx(by_hand, rel=CLOSE)
    assert found.i_max_a > found.i_min_a > 0


def test_the_way_names_the_conductors_and_leaves_out_the_others():
    boat = fused().load("E2", current_a=1, nominal_v=12).wire(
        "W3", "F1.b", "E2.+", "2.5 mm2", length_m=3).wire(
        "N3", "E2.-", "X2.s3", "2.5 mm2", cores=("-",), length_m=3)
    found = fault_current(Survey(boat.diagram()), "E1.+")
    assert set(found.through) == {"W1", "W2", "N0", "N2"}
    assert all(a == pytest.approx(found.i_max_a, rel=1e-4) for a in found.through.values())


def test_between_two_terminals_the_return_is_the_one_named():
    """A short from the load's positive to the negative bar spares the way home of 6 m."""
    survey = Survey(fused().diagram())
    found = fault_current(survey, "E1.+", "X2.s1")
    by_hand = EMF_V / (BANK_OHM + loop_ohm() - ohm("10 mm2", 6))
    assert found.i_max_a == pytest.approx(by_hand, rel=CLOSE)
    assert "N2" not in found.through


def test_the_far_end_counts_its_implied_return():
    boat = bank(Boat()).load("E1", current_a=5, nominal_v=12).wire(
        "W1", "G1.+", "E1.+", "6 mm2", length_m=8)
    found = fault_current(Survey(boat.diagram()), "E1.+")
    by_hand = EMF_V / (BANK_OHM + 2 * ohm("6 mm2", 8))
    assert found.i_max_a == pytest.approx(by_hand, rel=CLOSE)


def two_banks() -> Boat:
    boat = bank(bank(Boat(returns="drawn", negative_datum="X2.s1"), "G1"), "G2")
    boat.part("X1", "busbar", pole="+", stud_count=6).part("X2", "busbar", pole="-", stud_count=6)
    for number in (1, 2):
        boat.fuse(f"F{number}", 200, interrupt_a=1500 * number)
        boat.wire(f"W{number}", f"G{number}.+", f"F{number}.a", "35 mm2", length_m=0.5)
        boat.wire(f"V{number}", f"F{number}.b", f"X1.s{number}", "35 mm2", length_m=0.5)
        boat.wire(f"N{number}", f"G{number}.-", f"X2.s{number}", "35 mm2", cores=("-",),
                  length_m=1)
    return boat


def test_two_banks_side_by_side_give_twice_and_each_fuse_carries_its_own_share():
    found = fault_current(Survey(two_banks().diagram()), "X1.s3", "X2.s3")
    one = EMF_V / (BANK_OHM + 2 * ohm("35 mm2", 1) + 3 * LEAST_OHM)
    assert found.i_max_a == pytest.approx(2 * one, rel=1e-2)
    assert found.through["W1"] == pytest.approx(found.i_max_a / 2, rel=CLOSE)
    first, second = found.devices
    assert (first.device, first.breaks) == ("F1", False)
    assert (second.device, second.breaks) == ("F2", True)
    assert first.i_max_a == pytest.approx(found.i_max_a / 2, rel=CLOSE)


def test_a_charger_between_two_banks_adds_nothing_and_a_converter_gives_its_limit():
    def answer(kind: str, at: str) -> float:
        held = {"absorption_v" if kind == "dc_dc_charger" else "output_v": 14.4}
        boat = (
            bank(bank(Boat(), "G1"), "G2")
            .part("T1", kind, rated_output_a=30, input_v=12, **held)
            .load("E1", current_a=1, nominal_v=12)
            .wire("W1", "G1.+", "T1.in+", "16 mm2", length_m=1)
            .wire("W2", "T1.out+", "G2.+" if kind == "dc_dc_charger" else "E1.+", "16 mm2",
                  length_m=1)
        )
        return fault_current(Survey(boat.diagram()), at).i_max_a

    alone = EMF_V / (BANK_OHM + FAULT_OHM)
    assert answer("dc_dc_charger", "G2.+") == pytest.approx(alone, rel=1e-3)
    assert answer("dc_dc_converter", "E1.+") == pytest.approx(30, rel=0.05)


def test_a_diode_takes_its_drop_and_blocks_the_other_way():
    boat = (
        bank(Boat(returns="drawn", negative_datum="G1.-"))
        .part("R1", "diode_isolator", type="silicon", drop_v=0.8)
        .wire("W1", "G1.+", "R1.in", "16 mm2", length_m=2)
    )
    survey = Survey(boat.diagram())
    found = fault_current(survey, "R1.out1", "G1.-")
    by_hand = (EMF_V - 0.8) / (BANK_OHM + ohm("16 mm2", 2) + DIODE_OHM)
    assert found.i_max_a == pytest.approx(by_hand, rel=CLOSE)
    backwards = bank(Boat(returns="drawn", negative_datum="G1.-")).part(
        "R1", "diode_isolator", type="silicon", drop_v=0.8).wire(
        "W1", "G1.+", "R1.out1", "16 mm2", length_m=2)
    blocked = fault_current(Survey(backwards.diagram()), "R1.in", "G1.-")
    assert blocked.i_max_a == pytest.approx(0, abs=0.01)


def test_the_margins_say_whether_a_fuse_breaks_it_and_whether_it_will_trip():
    """Three times its rating makes a device trip soon: common practice, no source."""
    margin, = fault_current(Survey(fused(interrupt_a=2000).diagram()), "E1.+").devices
    assert margin.device == "F1" and margin.breaks is True
    assert margin.will_trip is (margin.i_min_a >= 300)
    assert margin.will_trip is True
    long = fused(interrupt_a=200).wire("W9", "E1.+", "E9.+", "1.5 mm2", length_m=10).load(
        "E9", current_a=1, nominal_v=12).wire("N9", "E9.-", "X2.s4", "1.5 mm2", cores=("-",),
                                              length_m=16)
    far, = fault_current(Survey(long.diagram()), "E9.+").devices
    assert far.will_trip is False and far.i_min_a < 300
    near, = fault_current(Survey(long.diagram()), "F1.b+", "X2.s1").devices
    assert near.breaks is False and near.i_max_a > 200


@pytest.mark.parametrize("fields", [{}, {"interrupt_a": 20000, "interrupt_at_v": 10}])
def test_an_interrupting_rating_that_is_not_told_for_these_volts_gives_no_answer(fields):
    margin, = fault_current(Survey(fused(**fields).diagram()), "E1.+").devices
    assert margin.breaks is None and margin.will_trip is True


def test_the_answer_says_where_each_batterys_resistance_is_from():
    assert fault_current(Survey(fused().diagram()), "E1.+").assumed == (
        "G1: internal resistance by maker's resistance",)


def test_a_conductor_bears_a_larger_current_for_a_shorter_time():
    wire = fused().diagram().conductors["W2"]
    once, twice = (conductor_withstand_s(wire, a) for a in (500, 1000))
    assert once is not None and once == pytest.approx(4 * (twice or 0))
    assert conductor_withstand_s(fused().diagram().conductors["N2"], 500) is None
    assert withstand_s(10, 500, 160, 160) == 0
    assert math.isinf(withstand_s(10, 0, 70, 160))
