"""Worked examples of published pages: inputs and expected figures are read from the table's rows.

Only the rows that a look-up or a plain formula answers; the row names its source.
"""

from __future__ import annotations

import re

import pytest

from model import tables
from model.diagram import Size
from model.table_files import table_rows
from model.units import MM2_PER_CIRCULAR_MIL, area_mm2, parse_quantity

ROWS = {row["id"]: row for row in table_rows("worked_examples")}


def given(example: str, name: str, column: str = "inputs") -> float:
    """Return the number that stands behind `name=` in the example's row."""
    match = re.search(rf"\b{name}=([\d.]+)", ROWS[example][column])
    assert match, f"{example} has no {name}"
    return float(match[1])


def expected(example: str, name: str) -> float:
    return given(example, name, "expected")


def awg(example: str, name: str = "awg", column: str = "inputs") -> Size:
    match = re.search(rf"\b{name}=(\d+(?:/0)?)", ROWS[example][column])
    assert match, f"{example} has no {name}"
    return Size(standard="awg", text=match[1])


def next_size(standard: str, least_mm2: float) -> str:
    """Return the smallest size of the makers' table with at least that area."""
    for row in table_rows("ampacity_abyc_e11"):
        gauge = row["conductor_size_awg"]
        if row["min_area_sae_circular_mils"] and area_mm2(standard, gauge) >= least_mm2:
            return gauge
    raise AssertionError("no size is large enough")


def least_circular_mils(example: str) -> float:
    """Circular mils = K x I x L / E, K from the shipped constants, as the row's method says."""
    k = float(table_rows("voltage_drop_constants")[0]["k_ohm_circular_mil_per_ft"])
    allowed_v = given(example, "nominal_v") * given(example, "allowed_drop_percent") / 100
    current_a, length_ft = given(example, "current_a"), given(example, "circuit_length_ft")
    return k * current_a * length_ft / allowed_v


def test_s01_bilge_pump_feed_by_the_makers_formula():
    needed = least_circular_mils("S01")
    assert needed == pytest.approx(expected("S01", "circular_mils"), abs=1)
    least_mm2 = needed * MM2_PER_CIRCULAR_MIL
    assert next_size("awg", least_mm2) == f"{expected('S01', 'awg'):g}"
    assert next_size("sae", least_mm2) == f"{expected('S01', 'sae_gauge'):g}"


def test_s03_windlass_size_by_drop_and_its_ampacity():
    gauge = next_size("awg", least_circular_mils("S03") * MM2_PER_CIRCULAR_MIL)
    assert gauge == awg("S03", column="expected").text
    one_way_m = parse_quantity(f"{given('S03', 'one_way_ft')} ft", "m")
    both_ways_m = parse_quantity(f"{given('S03', 'circuit_length_ft')} ft", "m")
    assert both_ways_m == pytest.approx(2 * one_way_m)
    size = Size(standard="awg", text=gauge)
    carried = tables.allowable_a("us", size, given("S03", "insulation_c")).value
    assert carried >= given("S03", "current_a")


def test_s06_fuse_window_of_a_product_on_its_wire():
    """The row: lower bound 1.25 x load. Its upper bound is the maker's own, below the law's."""
    least = 1.25 * given("S06", "product_current_a")
    assert least == expected("S06", "min_fuse_a")
    carried = tables.allowable_a(
        "us", awg("S06", "wire_awg"), given("S06", "insulation_c")
    ).value
    assert expected("S06", "max_fuse_a") <= 1.5 * carried
    chosen = expected("S06", "chosen_fuse_a")
    assert chosen in tables.standard_device_ratings_a()
    assert least <= chosen <= expected("S06", "max_fuse_a")


def test_s16_largest_fuse_by_the_150_percent_allowance():
    """33 CFR 183.455: a device may be up to 150 % of the allowable current below 50 V."""
    carried = tables.allowable_a("us", awg("S16"), given("S16", "insulation_c"))
    assert carried.value == expected("S16", "table_a")
    assert 1.5 * carried.value == expected("S16", "max_device_rating_a")


def test_s17_small_wire_with_60_c_insulation_in_an_engine_space():
    degrees = given("S17", "insulation_c")
    carried = tables.allowable_a("us", awg("S17"), degrees).value
    factor = tables.engine_space_factor("us", degrees).value
    assert carried * factor == pytest.approx(expected("S17", "allowed_a"), abs=0.1)


def test_s18_five_bundled_conductors_in_an_engine_space():
    degrees = given("S18", "insulation_c")
    count = int(given("S18", "current_carrying_conductors_in_bundle"))
    carried = tables.allowable_a("us", awg("S18"), degrees).value
    factors = (
        tables.engine_space_factor("us", degrees).value * tables.bundle_factor("us", count).value
    )
    assert carried * factors == pytest.approx(expected("S18", "allowed_a"), abs=0.1)


def test_s19_drop_along_a_tinned_loop_cold_and_warm():
    size = Size(standard="mm2", text=f"{given('S19', 'area_mm2'):g}")
    loop_km, current_a = given("S19", "loop_length_m") / 1000, given("S19", "current_a")
    cold = tables.resistance_ohm_per_km(size, given("S19", "conductor_c"), tinned=True)
    assert cold.value == given("S19", "r20_ohm_per_km")
    printed = re.findall(r"drop_v=([\d.]+)", ROWS["S19"]["expected"])
    warm = tables.resistance_ohm_per_km(size, 70, tinned=True)
    for figure, drop_v in zip((cold, warm), printed, strict=True):
        assert figure.value * loop_km * current_a == pytest.approx(float(drop_v), rel=0.005)


def test_s20_drop_along_12_awg_by_nec_resistance():
    loop_km = 2 * parse_quantity(f"{given('S20', 'one_way_ft')} ft", "km")
    resistance = tables.resistance_ohm_per_km(awg("S20"), 75).value
    drop_v = resistance * loop_km * given("S20", "current_a")
    assert drop_v == pytest.approx(expected("S20", "drop_v"), rel=0.005)
