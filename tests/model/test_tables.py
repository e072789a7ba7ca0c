"""Looking up the shipped tables."""

from __future__ import annotations

import pytest

from model import tables
from model.diagram import Size
from model.table_files import table_rows
from model.tables import TableRangeError


def awg(text: str) -> Size:
    return Size(standard="awg", text=text)


def mm2(text: str) -> Size:
    return Size(standard="mm2", text=text)


def test_a_size_of_the_tables_own_standard_gives_the_printed_row():
    figure = tables.allowable_a("us", awg("10"), 105)
    assert figure.value == 60  # 33 CFR 183.425 table 5
    assert figure.confirmed
    assert figure.note == ""
    assert figure.source == "33 CFR 183.425 table 5"


def test_a_figure_that_stands_from_memory_says_so():
    assert not tables.allowable_a("iso", mm2("10"), 70).confirmed
    assert not tables.engine_space_factor("us", 60).confirmed
    assert tables.engine_space_factor("us", 105).confirmed


def test_insulation_between_two_columns_takes_the_lower():
    assert tables.allowable_a("us", awg("10"), 104).value == (
        tables.allowable_a("us", awg("10"), 90).value
    )
    assert tables.allowable_a("iso", mm2("10"), 85) == tables.allowable_a("iso", mm2("10"), 90)
    assert tables.engine_space_factor("iso", 104) == tables.engine_space_factor("iso", 90)


def test_a_size_of_the_other_standard_lies_between_its_neighbours_and_says_so():
    figure = tables.allowable_a("us", mm2("35"), 105)  # between 2 AWG, 33.6, and 1 AWG, 42.4 mm²
    assert 210 < figure.value < 245
    assert "interpolated by area between 2 and 1 AWG" in figure.note
    sae = tables.allowable_a("us", Size(standard="sae", text="10"), 105)
    assert 45 < sae.value < 60
    assert sae.note


def test_interpolating_at_a_rows_own_area_gives_that_row():
    area = f"{tables.area_mm2('awg', '4'):.12f}"
    figure = tables.allowable_a("us", mm2(area), 105)
    assert figure.value == pytest.approx(tables.allowable_a("us", awg("4"), 105).value, rel=1e-9)


@pytest.mark.parametrize(
    "ask",
    [
        lambda: tables.allowable_a("us", awg("10"), 59),
        lambda: tables.engine_space_factor("iso", 60),  # not permitted there at all
        lambda: tables.bundle_factor("us", 0),
        lambda: tables.resistance_ohm_per_km(mm2("25"), 400),
        lambda: tables.placement_limit("ABYC E-11"),
        lambda: tables.placement_limit("no such clause"),
    ],
)
def test_outside_the_table_is_an_error_that_says_what_there_is(ask):
    with pytest.raises(TableRangeError, match="it has"):
        ask()


def test_ampacity_beyond_the_table_is_less_than_it_may_be_and_not_confirmed():
    smallest, thinner = (tables.allowable_a("us", awg(text), 105) for text in ("18", "20"))
    assert smallest.value / 2 < thinner.value < smallest.value
    largest, thicker = (tables.allowable_a("iso", mm2(text), 70) for text in ("150", "400"))
    assert thicker.value == largest.value
    assert not thinner.confirmed and not thicker.confirmed


@pytest.mark.parametrize(("beyond", "last"), [("0.25", "0.5"), ("500", "240")])
def test_resistance_beyond_the_table_goes_by_area(beyond, last):
    expected = tables.resistance_ohm_per_km(mm2(last)).value * float(last) / float(beyond)
    figure = tables.resistance_ohm_per_km(mm2(beyond))
    assert figure.value == pytest.approx(expected)
    assert figure.note == f"by area from {last} mm²"


def test_more_conductors_in_a_bundle_never_carry_more():
    for table in ("us", "iso"):
        factors = [tables.bundle_factor(table, count).value for count in range(1, 40)]
        assert factors == sorted(factors, reverse=True)
        assert factors[0] == 1.0
    assert tables.bundle_factor("us", 3).value == 0.7
    assert tables.bundle_factor("iso", 3).value == 1.0
    assert not tables.bundle_factor("iso", 4).confirmed


def test_thicker_conductors_carry_more_and_resist_less():
    for table, column in (("us", "conductor_size_awg"), ("iso", "nominal_area_mm2")):
        file = {"us": "ampacity_33cfr183_table5", "iso": "ampacity_iso13297"}[table]
        standard = {"us": "awg", "iso": "mm2"}[table]
        sizes = [Size(standard=standard, text=row[column]) for row in table_rows(file)]
        carried = [tables.allowable_a(table, size, 105).value for size in sizes]
        resisted = [tables.resistance_ohm_per_km(size).value for size in sizes]
        assert carried == sorted(carried)
        assert resisted == sorted(resisted, reverse=True)


def test_tinned_and_warm_conductors_resist_more():
    plain = tables.resistance_ohm_per_km(mm2("25")).value
    assert tables.resistance_ohm_per_km(mm2("25"), tinned=True).value > plain
    assert tables.resistance_ohm_per_km(mm2("25"), 70).value == pytest.approx(plain * 1.1965)


def test_cranking_conductors_need_no_device_and_others_have_a_distance():
    assert tables.placement_limit("ABYC E-11", "cranking").max_distance_mm is None
    limit = tables.placement_limit("33 CFR 183.455(b)(1)")
    assert limit.max_distance_mm == pytest.approx(7 * 25.4, abs=0.5)
    assert limit.confirmed


def test_the_common_ratings_are_sorted_and_without_doubles():
    ratings = tables.standard_device_ratings_a()
    assert list(ratings) == sorted(set(ratings))
    assert {5, 7.5, 100, 400} <= set(ratings)


def test_every_shipped_table_has_rows_of_even_width_and_names_sources():
    from importlib.resources import files

    for entry in files("assets").joinpath("tables").iterdir():
        rows = table_rows(entry.name.removesuffix(".csv"))
        assert rows, entry.name
        for row in rows:
            assert None not in row and None not in row.values(), entry.name
            # A list of sources has keys of its own; every other table names where it is from.
            assert row.get("key") or row["source"], entry.name


def test_source_keys_are_unique_and_have_a_known_standing():
    rows = table_rows("sources")
    assert len({row["key"] for row in rows}) == len(rows)
    standings = {"read", "read in part", "not read", "from memory", "no source"}
    assert {row["standing"] for row in rows} <= standings
