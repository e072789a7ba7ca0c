"""Sizes and lengths in the other system of measures: mm² beside gauge, feet for metres.

Lengths are stored in metres whatever the boat's own unit; only the form shows and takes feet.
"""

from __future__ import annotations

from itertools import pairwise
from typing import Any

from msgspec.structs import replace

from app.panels.fields import Setter
from app.panels.form_fields import size_shown
from model.diagram import Diagram, Known, Size
from model.kinds.record import Field
from model.units import area_mm2, format_quantity, parse_quantity

SHOWN_FT_DIGITS = 4
SAME_SHARE = 0.005  # areas this near are one size


def other_system(size: Size) -> str:
    """Return between which sizes of the other system a size lies, and how the nearest differs."""
    mm2 = _mm2(size)
    own = "" if size.standard == "mm2" else f"{mm2:.3g} mm²: "
    sizes = _others(size)
    for below, above in pairwise(sizes):
        if _mm2(below) <= mm2 <= _mm2(above):
            return f"{own}between {_told(below)} and {_told(above)}; {nearest(size)}"
    end = sizes[0] if mm2 < _mm2(sizes[0]) else sizes[-1]
    word = "below" if end is sizes[0] else "above"
    return f"{own}{word} {_told(end)}"


def nearest(size: Size) -> str:
    """Return the nearest size of the other system, and whether it is larger or smaller."""
    mm2 = _mm2(size)
    best = min(_others(size), key=lambda other: abs(_mm2(other) - mm2))
    difference = _mm2(best) / mm2 - 1
    if abs(difference) <= SAME_SHARE:
        return f"as {size_shown(best)}"
    return f"nearest {size_shown(best)}, {'larger' if difference > 0 else 'smaller'}"


def _others(size: Size) -> tuple[Size, ...]:
    from model.tables import conductor_sizes  # a start has no use for it

    sizes = conductor_sizes("awg" if size.standard == "mm2" else "mm2")
    return tuple(sorted(sizes, key=_mm2))


def _mm2(size: Size) -> float:
    return area_mm2(size.standard, size.text)


def _told(size: Size) -> str:
    shown = size_shown(size)
    return shown if size.standard == "mm2" else f"{shown} ({_mm2(size):.3g} mm²)"


def in_boats_unit(
    diagram: Diagram, field: Field, value: Any, setter: Setter
) -> tuple[Field, Any, Setter]:
    """Return a field of metres as one of feet, where the boat's lengths are in feet."""
    if diagram.boat.length_unit != "ft" or field.unit != "m" or field.type != "number":
        return field, value, setter

    def put(feet: Any, known: Known | None) -> str | None:
        if feet is not None and feet == shown:
            return setter(value, known)  # how it is known was changed, and not the rounded figure
        return setter(None if feet is None else parse_quantity(f"{feet!r} ft", "m"), known)

    shown = None if value is None else _feet(value)
    return replace(field, unit="ft"), shown, put


def _feet(length_m: float) -> float:
    """Return metres as feet, as many digits as a tape gives. [ft]"""
    return float(format_quantity(parse_quantity(f"{length_m!r} m", "ft"), "", SHOWN_FT_DIGITS))
