"""Looking up the shipped tables: ampacity and its factors, resistance, placement, ratings.

Every answer carries its source and whether the figure was read there ("confirmed") or stands from
memory. Outside a table's range the answer is TableRangeError, never a guess. Between two rows
only an area of another standard's size is interpolated, and the answer's note says so.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from typing import Literal

from msgspec import Struct

from model.diagram import Size
from model.errors import TableRangeError
from model.table_files import table_rows
from model.units import area_mm2

__all__ = ["TableFigure", "TableRangeError"]

RuleSet = Literal["us", "iso"]

# Resistivity of annealed copper at 20 °C, 100 % IACS, and its temperature coefficient there.
# [ohm mm2/m], [1/K]; IEC 60028.
COPPER_OHM_MM2_PER_M = 0.017241
COPPER_PER_K = 0.00393
# A stranded conductor is longer than its cable: every stranded row of NEC chapter 9 table 8 is
# the solid copper figure times this. [unitless]
STRANDING = 1.02


class TableFigure(Struct, frozen=True):
    """A figure from a table: the value in the function's unit, where it stands, how well known."""

    value: float
    source: str
    confirmed: bool
    note: str = ""


class PlacementLimit(Struct, frozen=True):
    """How far along the conductor an overcurrent device may be from the source of power."""

    clause: str
    situation: str
    max_distance_mm: float | None
    """None: no device is required there. [mm]"""
    remark: str
    source: str
    confirmed: bool


class _Ampacity(Struct, frozen=True):
    """How one rule set's ampacity table is laid out."""

    file: str
    size_column: str
    standard: Literal["awg", "mm2"]
    factors: str


_AMPACITY: Mapping[RuleSet, _Ampacity] = {
    "us": _Ampacity("ampacity_33cfr183_table5", "conductor_size_awg", "awg",
                    "ampacity_correction_factors"),
    "iso": _Ampacity("ampacity_iso13297", "nominal_area_mm2", "mm2",
                     "ampacity_iso13297_factors"),
}  # fmt: skip
_INSULATION = re.compile(r"insulation_(\d+)")


def allowable_a(table: RuleSet, size: Size, insulation_c: float) -> TableFigure:
    """Return the current a single conductor may carry at 30 °C ambient. [A]

    us: 33 CFR 183.425 table 5; iso: ISO 13297 annex A. An insulation class between two columns
    takes the lower one; a size of the other standard is interpolated by area on logarithms. Sizes
    beyond the table count for less than they are, and are not confirmed: thinner ones by area from
    its first row, as ampacity falls more slowly than area; thicker ones as its last row.
    """
    layout = _AMPACITY[table]
    rows = table_rows(layout.file)
    column = _column_at_or_below(rows[0], insulation_c, _name(table))
    end = _end_row(rows, layout.size_column, layout.standard, size)
    if end is not None:
        row, share = end
        return TableFigure(float(row[column]) * min(share, 1.0), source_text(rows[0]["source"]),
                           False, f"beyond the table, from {row[layout.size_column]}")
    value, note = _by_size(rows, layout.size_column, column, layout.standard, size, _name(table))
    return TableFigure(value, source_text(rows[0]["source"]), _confirmed(rows[0]), note)


def engine_space_factor(table: RuleSet, insulation_c: float) -> TableFigure:
    """Return what the engine space's heat leaves of the allowable current. [unitless]

    us: 33 CFR 183.425 note 1, ambient 50 °C; iso: ISO 10133 / 13297 annex A. An insulation class
    between two rows takes the lower one.
    """
    by_condition = {
        row["condition"]: row
        for row in table_rows(_AMPACITY[table].factors)
        if row["kind"].startswith("engine_space")
    }
    what = f"{_name(table)}, engine space"
    row = by_condition[_column_at_or_below(by_condition, insulation_c, what)]
    return _factor(row)


def bundle_factor(table: RuleSet, count: int) -> TableFigure:
    """Return what is left of the allowable current among `count` loaded conductors. [unitless]

    us: 33 CFR 183.425 note 2, which binds from 50 V up (183.435) and which ABYC applies generally.
    iso: reduces from four conductors up; its own figures are not at hand, so the stricter ones of
    the other table stand in for them, and are not confirmed.
    """
    if count < 1:
        raise TableRangeError(_name(table), f"{count} conductors", "1 and more")
    if table == "iso":
        if count < 4:
            return TableFigure(1.0, "ISO 13297", False, "ISO 13297 reduces from four conductors up")
        figure = bundle_factor("us", count)
        return TableFigure(figure.value, figure.source, False,
                           "stands in for ISO 13297, whose own figures are not at hand")
    for row in table_rows("ampacity_correction_factors"):
        if not row["kind"].startswith("bundled"):
            continue
        least, _, most = row["condition"].rstrip("+").partition("-")
        open_ended = row["condition"].endswith("+")
        if int(least) <= count and (open_ended or count <= int(most or least)):
            return _factor(row)
    raise TableRangeError(_name(table), f"{count} conductors", "no such row")


@lru_cache(maxsize=4096)
def resistance_ohm_per_km(
    size: Size, temperature_c: float = 20.0, tinned: bool = False
) -> TableFigure:
    """Return the resistance of a stranded conductor at its own temperature. [ohm/km]

    mm²: greatest resistance of IEC 60228 class 5, plain or tinned; sizes beyond its table by area
    from its last row. AWG and SAE: area, copper resistivity (IEC 60028) and the stranding of NEC
    chapter 9 table 8. Temperature by the linear law of IEC 60028, which holds for the range a
    cable works in.
    """
    warmer = 1 + COPPER_PER_K * (temperature_c - 20)
    if not -60 <= temperature_c <= 250:
        raise TableRangeError("The copper temperature law", f"{temperature_c:g} °C", "-60 to 250")
    if size.standard == "mm2":
        column = f"class5_{'tinned' if tinned else 'plain'}_max_r20c_ohm_per_km"
        value, note = _class5_ohm_per_km(size, column)
        return TableFigure(value * warmer, "IEC 60228 class 5", True, note)
    cold = COPPER_OHM_MM2_PER_M * STRANDING * 1000 / area_mm2(size.standard, size.text)
    source = "NEC chapter 9 table 8; ASTM B258; IEC 60028"
    return TableFigure(cold * warmer, source, True, "computed from area and resistivity")


def _class5_ohm_per_km(size: Size, column: str) -> tuple[float, str]:
    """Return the row's figure at 20 C; beyond either end the last row's, by area. [ohm/km]"""
    rows = table_rows("iec60228_class5")
    end = _end_row(rows, "nominal_area_mm2", "mm2", size)
    if end is not None:
        row, share = end
        return float(row[column]) / share, f"by area from {row['nominal_area_mm2']} mm²"
    return _by_size(rows, "nominal_area_mm2", column, "mm2", size, "IEC 60228 class 5")


def placement_limit(clause: str, situation: str = "") -> PlacementLimit:
    """Return the one row of the placement table of that clause, and situation where it has many.

    `situation` may be the beginning of the table's words.
    """
    rows = table_rows("overcurrent_placement")
    found = [
        row for row in rows if row["clause"] == clause and row["situation"].startswith(situation)
    ]
    if len(found) != 1:
        asked = f"{clause} {situation}".strip()
        has = [f"{row['clause']}: {row['situation']}" for row in rows]
        raise TableRangeError("The placement table", f"just '{asked}'", "; ".join(has))
    row = found[0]
    distance_mm = float(row["max_distance_mm"])
    return PlacementLimit(
        clause, row["situation"], None if distance_mm < 0 else distance_mm, row["remark"],
        source_text(row["source"]), _confirmed(row),
    )  # fmt: skip


def drop_limit_percent(circuit: str, rule_set: str) -> TableFigure:
    """Return how much a circuit may drop, of its nominal volts; by the words of its row. [%]"""
    rows = table_rows("voltage_drop_limits")
    for row in rows:
        if (row["circuit"], row["rule_set"]) == (circuit, rule_set):
            return TableFigure(float(row["max_drop_percent_of_nominal"]),
                               source_text(row["source"]), _confirmed(row))
    has = "; ".join(f"{row['circuit']} ({row['rule_set']})" for row in rows)
    raise TableRangeError("The table of drop limits", f"{circuit} ({rule_set})", has)


@cache
def standard_device_ratings_a() -> tuple[float, ...]:
    """Return the common ratings of fuses of every class, smallest first. [A]"""
    return tuple(sorted({
        float(rating)
        for row in table_rows("fuse_classes")
        for rating in row["common_standard_ratings_a"].split(",")
        if rating
    }))  # fmt: skip


@cache
def conductor_sizes(standard: Literal["mm2", "awg", "sae"]) -> tuple[Size, ...]:
    """Return the sizes of a standard that the tables of ampacity know, thinnest first."""
    layout = _AMPACITY["iso" if standard == "mm2" else "us"]
    return tuple(Size(standard=standard, text=row[layout.size_column])
                 for row in table_rows(layout.file))


@cache
def source_text(keys: str) -> str:
    """Return a table's source keys as a person reads them: clause, else title."""
    titles = _source_titles()
    known = re.compile("|".join(re.escape(key) for key in sorted(titles, key=len, reverse=True)))
    return known.sub(lambda match: titles[match[0]], keys)


@cache
def _source_titles() -> Mapping[str, str]:
    return {row["key"]: row["clause"] or row["title"] for row in table_rows("sources")}


def _name(table: RuleSet) -> str:
    return source_text(table_rows(_AMPACITY[table].file)[0]["source"])


def _confirmed(row: Mapping[str, str]) -> bool:
    """A row without a remark on its standing was read whole in its source."""
    return row.get("confirmation", "confirmed").startswith("confirmed")


def _factor(row: Mapping[str, str]) -> TableFigure:
    return TableFigure(float(row["factor_ratio"]), source_text(row["source"]), _confirmed(row))


def _column_at_or_below(
    names: Mapping[str, object] | Sequence[str], insulation_c: float, table: str
) -> str:
    """Return the name of the highest insulation class that is not above the conductor's."""
    classes = {int(match[1]): name for name in names if (match := _INSULATION.search(name))}
    fitting = [degrees for degrees in classes if degrees <= insulation_c]
    if not fitting:
        raise TableRangeError(table, f"{insulation_c:g} °C insulation",
                              f"{min(classes)} °C and more")
    return classes[max(fitting)]


def _end_row(
    rows: Sequence[Mapping[str, str]], size_column: str, standard: Literal["awg", "mm2"],
    size: Size,
) -> tuple[Mapping[str, str], float] | None:
    """Return the end row that a size lies beyond, and its share of that row's area."""
    area = area_mm2(size.standard, size.text)
    first, last = (area_mm2(standard, row[size_column]) for row in (rows[0], rows[-1]))
    if area < first:
        return rows[0], area / first
    return (rows[-1], area / last) if area > last else None


def _by_size(
    rows: Sequence[Mapping[str, str]],
    size_column: str,
    value_column: str,
    standard: Literal["awg", "mm2"],
    size: Size,
    table: str,
) -> tuple[float, str]:
    """Return the row of the size itself, or the figure for its area between two rows; raise
    TableRangeError beyond the ends."""
    if size.standard == standard:
        for row in rows:
            if row[size_column] == size.text:
                return float(row[value_column]), ""
    wanted_mm2 = area_mm2(size.standard, size.text)
    points = [(area_mm2(standard, row[size_column]), row) for row in rows]
    for (below_mm2, below), (above_mm2, above) in zip(points, points[1:], strict=False):
        if below_mm2 <= wanted_mm2 <= above_mm2:
            share = math.log(wanted_mm2 / below_mm2) / math.log(above_mm2 / below_mm2)
            low, high = float(below[value_column]), float(above[value_column])
            note = (f"interpolated by area between {below[size_column]} and "
                    f"{above[size_column]} {'mm²' if standard == 'mm2' else 'AWG'}")
            return low * (high / low) ** share, note
    has = f"{rows[0][size_column]} to {rows[-1][size_column]} {standard}"
    raise TableRangeError(table, f"{size.text} {size.standard}", has)
