"""Where published sources disagree, the program names whose figure it used, and each side holds.

The sources stand in the tables' rows; the expected figures are fetched from there.
"""

from __future__ import annotations

import math

import pytest

from model.analysis.ampacity import ampacity
from model.protection_tables import class_interrupts_a
from model.survey import Survey
from model.table_files import table_rows
from model.tables import allowable_a, bundle_factor
from model.units import area_mm2
from rules.allowance import largest_device_a
from rules.book import find
from rules.engine import check
from rules.profiles import profile
from tests.boat_builder import Boat, size
from tests.rules.bases import tidy
from tests.rules.case_edits import edited

SQUARE_MM_PER_CIRCULAR_MIL = math.pi / 4 * 0.0254**2


def found(number: str, diagram, rule_set: str):
    rule = find(number)
    report = check(diagram, rule_set, rules=(rule,), strict=True)
    return [finding for finding in report.findings if finding.rule == rule.record.slug]


def limit_percent(circuit: str, rule_set: str) -> float:
    row = next(r for r in table_rows("voltage_drop_limits")
               if r["circuit"] == circuit and r["rule_set"].startswith(rule_set))
    return float(row["max_drop_percent_of_nominal"])


def test_a_bilge_pump_may_lose_ten_percent_in_the_one_practice_and_three_in_the_other():
    assert limit_percent("bilge pump", "ABYC") == 10
    assert limit_percent("bilge pump", "ISO") == 3
    # 6 A over 2 x 7 m of 2.5 mm2 at 20 C: 0.017241 x 14 / 2.5 x 6 = 0.58 V of 12, 4.8 percent.
    boat = edited(tidy(), ({"set": "W61.length_m", "to": 7},))
    assert not found("4.2", boat, "us")
    (finding,) = found("4.2", boat, "iso")
    assert "E9" in finding.where


def test_from_a_battery_72_inches_ask_for_a_sheath_in_the_stricter_reading():
    bare = edited(tidy(), ({"set": "W1.length_m", "to": 1.5}, {"set": "W1.sheath", "to": "none"}))
    sheathed = edited(bare, ({"set": "W1.sheath", "to": "whole"},))
    (finding,) = found("1.2", bare, "us")
    assert finding.figures["limit_mm"] == profile("us").value("unsheathed_max_mm")
    assert not found("1.2", sheathed, "us")
    too_far = edited(sheathed, ({"set": "W1.length_m", "to": 1.9},))
    assert found("1.2", too_far, "us")[0].figures["limit_mm"] == pytest.approx(72 * 25.4, abs=1)


def test_twelve_gauge_is_another_area_in_each_standard():
    """6530 circular mils by geometry and NEC; 5833 in SAE's conductors (makers' figures)."""
    row = next(r for r in table_rows("ampacity_abyc_e11") if r["conductor_size_awg"] == "12")
    sae = float(row["min_area_sae_circular_mils"]) * SQUARE_MM_PER_CIRCULAR_MIL
    assert area_mm2("awg", "12") == pytest.approx(6530 * SQUARE_MM_PER_CIRCULAR_MIL, rel=1e-3)
    assert area_mm2("sae", "12") == pytest.approx(sae, rel=1e-6)
    assert area_mm2("sae", "12") < area_mm2("awg", "12")


def test_the_ceiling_of_a_fuse_on_four_gauge_is_the_law_s_not_a_maker_s_chart():
    """150 percent of 160 A would be 240 A by 33 CFR 183.455(c); makers' charts stop at 150 A. The
    program allows the next standard size above the ampacity within the law's margin."""
    amps = allowable_a("us", size("4 awg"), 105).value
    assert amps == 160
    assert profile("us").value("next_size_max_ratio") * amps == 240
    assert amps < largest_device_a(amps, profile("us")) < 240
    assert largest_device_a(allowable_a("iso", size("25 mm2"), 105).value, profile("iso")) <= 170


def test_of_two_interrupting_ratings_of_a_bolted_fuse_only_the_lower_clears_it():
    """6000 A by one maker, trusted to 2700 A by another: the class is taken between its ends."""
    bolted = class_interrupts_a("bolted", 12)
    assert bolted is not None
    assert bolted.low.value <= 2700 < 6000 <= bolted.high.value


def test_bundling_below_fifty_volts_reduces_in_one_practice_from_three_conductors_on():
    boat = Boat("us").battery("G1").load("E1")
    wire = boat.wire("W1", "G1.+", "E1.+", "12 awg", insulation_c=105, engine_space_m=0,
                     bundle_count=3).diagram().conductors["W1"]
    diagram = boat.diagram()
    single = allowable_a("us", wire.size, 105).value
    assert ampacity(wire, diagram, "us").value_a == pytest.approx(
        single * bundle_factor("us", 3).value)
    assert bundle_factor("us", 3).value == 0.7
    assert bundle_factor("iso", 3).value == 1.0
    assert bundle_factor("iso", 4).value < 1.0


def test_the_drop_constants_differ_by_nine_percent_and_the_cold_one_is_optimistic():
    row = {r["name"].split()[0]: float(r["rho_ohm_mm2_per_m"])
           for r in table_rows("voltage_drop_constants")}
    abyc, iso, copper = row["K=10.75"], row["0.0164"], row["IACS"]
    assert abyc / iso == pytest.approx(1.09, abs=0.005)
    assert iso < copper < abyc


def test_a_switch_is_asked_for_from_eight_hundred_cranking_amperes_on():
    """Older E-11 has 800 CCA alone; the newer adds 100 Ah where no cranking rating is stated."""
    assert profile("us").value("switch_cranking_a") == 800


def test_a_survey_answers_both_practices_from_one_network():
    survey = Survey(tidy())
    wire = survey.diagram.conductors["W5"]
    assert survey.ampacity(wire, "us").sources != survey.ampacity(wire, "iso").sources
