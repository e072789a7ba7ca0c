"""Ampacity against the federal table and against wire makers' 105 °C table with bundling."""

from __future__ import annotations

import pytest

from model import tables
from model.diagram import Size
from model.table_files import table_rows

FEDERAL = table_rows("ampacity_33cfr183_table5")
MAKERS = table_rows("ampacity_abyc_e11")
CLASSES = (60, 75, 80, 90, 105, 125, 200)


@pytest.mark.parametrize("row", FEDERAL, ids=lambda row: row["conductor_size_awg"])
def test_every_cell_of_33_cfr_183_425_table_5_is_what_we_answer(row):
    size = Size(standard="awg", text=row["conductor_size_awg"])
    for degrees in CLASSES:
        figure = tables.allowable_a("us", size, degrees)
        assert figure.value == float(row[f"allowable_a_insulation_{degrees}c"])
        assert figure.confirmed


@pytest.mark.parametrize("row", MAKERS, ids=lambda row: row["conductor_size_awg"])
def test_the_factors_give_the_makers_printed_105_c_table(row):
    """Source: the wire makers' table in the row. Its figures are rounded to 0.1 or 1 A."""
    size = Size(standard="awg", text=row["conductor_size_awg"])
    single = tables.allowable_a("us", size, 105).value
    engine = tables.engine_space_factor("us", 105).value
    columns = {1: "upto2", 3: "3_bundled", 5: "4to6_bundled", 24: "7to24_bundled"}
    for count, name in columns.items():
        bundled = single * tables.bundle_factor("us", count).value
        place = {"outside": bundled, "inside": bundled * engine}
        for where, ours in place.items():
            printed = row.get(f"amps_105c_{name}_{where}_a") or row.get(
                f"amps_105c_{name}_{where}_engine_a"
            )
            if printed:
                # Rounded to whole amps in places, to a tenth in others.
                assert ours == pytest.approx(float(printed), abs=0.5), (count, where)


@pytest.mark.parametrize("row", MAKERS, ids=lambda row: row["conductor_size_awg"])
def test_awg_geometry_reaches_the_makers_least_areas(row):
    """Their least AWG area is the nominal one, rounded; fine stranding may fall short by 2 %."""
    if row["min_area_awg_circular_mils"]:
        ours = tables.area_mm2("awg", row["conductor_size_awg"]) / (0.0254**2 * 0.7853981634)
        assert ours == pytest.approx(float(row["min_area_awg_circular_mils"]), rel=0.02)
