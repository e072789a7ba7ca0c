"""Typed quantities and conductor sizes: read here and nowhere else.

A person may write "12 ft", "3,7 m", "1.2 kA" or "2/0 AWG"; the model keeps plain numbers in the
unit that the field's name says. Units of measure stand in a small table of our own.
"""

from __future__ import annotations

import math
import re
from functools import cache

from msgspec import Struct

from model.errors import QuantityError
from model.table_files import table_rows

__all__ = ["QuantityError", "area_mm2", "format_quantity", "parse_quantity", "parse_size"]


class _Unit(Struct, frozen=True):
    """One unit: what it measures, and value in the base unit = number * factor + offset."""

    measures: str
    factor: float
    offset: float = 0.0


# International foot and inch: exactly 0.3048 m and 0.0254 m (agreement of 1959).
_UNITS = {
    "m": _Unit("length", 1.0),
    "mm": _Unit("length", 1e-3),
    "cm": _Unit("length", 1e-2),
    "km": _Unit("length", 1e3),
    "ft": _Unit("length", 0.3048),
    "in": _Unit("length", 0.0254),
    "mm2": _Unit("area", 1.0),
    "cm2": _Unit("area", 100.0),
    "A": _Unit("current", 1.0),
    "mA": _Unit("current", 1e-3),
    "kA": _Unit("current", 1e3),
    "V": _Unit("voltage", 1.0),
    "mV": _Unit("voltage", 1e-3),
    "kV": _Unit("voltage", 1e3),
    "W": _Unit("power", 1.0),
    "kW": _Unit("power", 1e3),
    "VA": _Unit("apparent power", 1.0),
    "kVA": _Unit("apparent power", 1e3),
    "Ah": _Unit("charge", 1.0),
    "mAh": _Unit("charge", 1e-3),
    "kAh": _Unit("charge", 1e3),
    "Wh": _Unit("energy", 1.0),
    "kWh": _Unit("energy", 1e3),
    "ohm": _Unit("resistance", 1.0),
    "mohm": _Unit("resistance", 1e-3),
    "kohm": _Unit("resistance", 1e3),
    "s": _Unit("time", 1.0),
    "ms": _Unit("time", 1e-3),
    "min": _Unit("time", 60.0),
    "h": _Unit("time", 3600.0),
    "C": _Unit("temperature", 1.0),
    "F": _Unit("temperature", 5 / 9, -160 / 9),
    "deg": _Unit("angle", 1.0),
    "Hz": _Unit("frequency", 1.0),
    "1/K": _Unit("temperature coefficient", 1.0),
    "%/K": _Unit("temperature coefficient", 0.01),
    "": _Unit("ratio", 1.0),
    "%": _Unit("ratio", 0.01),
}
_SPELLINGS = {
    "'": "ft", "′": "ft", "foot": "ft", "feet": "ft",
    '"': "in", "″": "in", "''": "in", "inch": "in", "inches": "in",
    "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "mm²": "mm2", "mm^2": "mm2", "sqmm": "mm2", "cm²": "cm2",
    "amp": "A", "amps": "A", "ampere": "A", "amperes": "A",
    "volt": "V", "volts": "V", "watt": "W", "watts": "W",
    "ω": "ohm", "ohms": "ohm", "mω": "mohm", "kω": "kohm", "milliohm": "mohm",
    "sec": "s", "second": "s", "seconds": "s", "minute": "min", "minutes": "min",
    "hour": "h", "hours": "h", "hr": "h",
    "°c": "C", "°f": "F", "°": "deg", "degrees": "deg", "percent": "%",
}  # fmt: skip
# No two units differ by upper and lower case alone, so "24v" and "100 AH" are read as meant.
_BY_FOLDED = {name.casefold(): name for name in _UNITS} | _SPELLINGS

_FRACTION = re.compile(r"([-+]?)(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)\s*(\D*)")
_DECIMAL = re.compile(r"([-+]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][-+]?\d+)?)\s*(.*)")
_FEET_AND_INCHES = re.compile(r"(.+?(?:ft|feet|foot|['′]))\s*(\d.*)", re.IGNORECASE)
# By the decimal mark: what the other mark makes of three digits could be thousands.
_THOUSANDS = {mark: re.compile(rf"[-+]?[1-9]\d{{0,2}}{re.escape(other)}\d{{3}}(?:\D.*)?")
              for mark, other in ((".", ","), (",", "."))}


def parse_quantity(text: str, unit: str, mark: str = ".") -> float:
    """Return what was typed as a number in `unit`; a bare number is taken to be in it already.

    The decimal mark may be a point or a comma; `mark` is the usual one. Raises QuantityError for
    what is not a number, is of another kind of unit, or could mean two things: "1,200" where the
    point is usual, "1.200" where the comma is.
    """
    typed = text.strip().replace("−", "-")
    parts = _FEET_AND_INCHES.fullmatch(typed)
    if parts and _unit(unit).measures == "length":
        whole, rest = (_single(part, unit, text, mark) for part in parts.groups())
        return float(f"{whole + math.copysign(rest, whole):.12g}")
    return _single(typed, unit, text, mark)


def _single(typed: str, unit: str, text: str, mark: str) -> float:
    number, written = _number_and_unit(typed, unit, text, mark)
    wanted = _unit(unit)
    name = _BY_FOLDED.get(written.casefold())
    if not written or written == unit or name == unit:
        return number
    if name is None or _UNITS[name].measures != wanted.measures:
        raise QuantityError(text, _expected(unit))
    given = _UNITS[name]
    converted = (number * given.factor + given.offset - wanted.offset) / wanted.factor
    # Twelve digits: 12 ft is 3.6576 m, not 3.6576000000000004.
    return float(f"{converted:.12g}")


def _number_and_unit(typed: str, unit: str, text: str, mark: str) -> tuple[float, str]:
    fraction = _FRACTION.fullmatch(typed)
    if fraction:
        sign, whole, above, below, written = fraction.groups()
        if int(below) == 0:
            raise QuantityError(text, _expected(unit))
        value = int(whole or 0) + int(above) / int(below)
        return (-value if sign == "-" else value), written.strip()
    if _THOUSANDS[mark].fullmatch(typed):
        raise QuantityError(
            text, f"a number without a mark for thousands, such as 1200 or 1{mark}2")
    decimal = _DECIMAL.fullmatch(typed)
    if decimal is None:
        raise QuantityError(text, _expected(unit))
    value = float(decimal[1].replace(",", "."))
    if not math.isfinite(value):
        raise QuantityError(text, _expected(unit))
    return value, decimal[2].strip()


def _unit(unit: str) -> _Unit:
    """Return the field's unit; "of rated" and its like are ratios."""
    return _UNITS[""] if unit.startswith("of ") else _UNITS[unit]


def _expected(unit: str) -> str:
    measures = _unit(unit).measures
    if measures == "ratio":
        return "a number or a percentage, such as 0.5 or 50 %"
    others = [name for name, other in _UNITS.items() if other.measures == measures and name != unit]
    also = f" (or {', '.join(others)})" if others else ""
    return f"a number in {display_unit(unit)}{also}"


def display_unit(unit: str) -> str:
    """Return the unit as it is shown to a person."""
    return {"mm2": "mm²", "cm2": "cm²", "C": "°C", "F": "°F", "deg": "°", "ohm": "Ω",
            "mohm": "mΩ", "kohm": "kΩ"}.get(unit, unit)  # fmt: skip


def format_quantity(value: float, unit: str, digits: int = 12) -> str:
    """Return number and unit for a person; `digits` are the significant ones."""
    number = f"{value:.{digits}g}"
    return f"{number} {display_unit(unit)}" if unit else number


# Conductor sizes ------------------------------------------------------------------------------

MM2_PER_CIRCULAR_MIL = math.pi / 4 * 0.0254**2
LARGEST_MM2 = 1000.0
SIZE_EXPECTED = "a conductor size such as 16 mm2, 6 AWG, 2/0 or 16 SAE"

_GAUGE = re.compile(r"(?:#\s*)?(\d{1,2}|[1-4]/0)")
_METRIC = re.compile(r"(\d+(?:[.,]\d+)?)\s*(?:mm2|mm²|mm\^2|sqmm)?", re.IGNORECASE)
_AUGHTS = {"0": "1/0", "00": "2/0", "000": "3/0", "0000": "4/0"}


def parse_size(text: str) -> tuple[str, str]:
    """Return (standard, text as printed in its table) of a typed conductor size.

    A bare number is mm²; "2/0" is AWG, which alone is written so. Raises QuantityError.
    """
    typed = text.strip()
    for standard in ("awg", "sae"):
        rest = re.sub(standard, "", typed, flags=re.IGNORECASE).strip()
        if rest != typed:
            return standard, _gauge_text(standard, rest, text)
    if typed in _AUGHTS and typed != "0" or re.fullmatch(r"[1-4]/0", typed):
        return "awg", _gauge_text("awg", typed, text)
    metric = _METRIC.fullmatch(typed)
    if _THOUSANDS["."].fullmatch(typed):
        raise QuantityError(text, SIZE_EXPECTED)
    if metric is None or not 0 < float(metric[1].replace(",", ".")) <= LARGEST_MM2:
        raise QuantityError(text, SIZE_EXPECTED)
    return "mm2", f"{float(metric[1].replace(',', '.')):.12g}"


def _gauge_text(standard: str, rest: str, text: str) -> str:
    gauge = _AUGHTS.get(rest, rest)
    match = _GAUGE.fullmatch(gauge)
    if match is None or (standard == "sae" and match[1] not in _sae_circular_mils()):
        raise QuantityError(text, SIZE_EXPECTED)
    if standard == "awg" and gauge_number(match[1]) > 36:
        raise QuantityError(text, SIZE_EXPECTED)
    return match[1]


def gauge_number(gauge: str) -> int:
    """Return the number of an AWG size in its series: 10 for "10", -1 for "2/0"."""
    return 1 - int(gauge[0]) if gauge.endswith("/0") else int(gauge)


@cache
def area_mm2(standard: str, text: str) -> float:
    """Return the copper area of a conductor size. [mm²]

    AWG by the geometric series of ASTM B258: 0.0050 in at 36, 0.4600 in at 4/0, 39 steps.
    SAE by the least circular mils of wire makers' tables. Raises QuantityError.
    """
    found, printed = parse_size(f"{text} {standard}" if standard != "mm2" else text)
    if found == "mm2":
        return float(printed)
    if found == "sae":
        return _sae_circular_mils()[printed] * MM2_PER_CIRCULAR_MIL
    diameter_mm = 0.127 * 92.0 ** ((36 - gauge_number(printed)) / 39)
    return math.pi / 4 * diameter_mm**2


def _sae_circular_mils() -> dict[str, float]:
    return {
        row["conductor_size_awg"]: float(row["min_area_sae_circular_mils"])
        for row in table_rows("ampacity_abyc_e11")
        if row["min_area_sae_circular_mils"]
    }
