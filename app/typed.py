"""Figures in fields and lists, with the decimal mark of the language spoken; typed with either.

Files, tables and the command line keep the point. Knows no Qt.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from app.words import decimal, decimal_mark
from model.units import format_quantity, parse_quantity


def shown_quantity(value: float, unit: str = "") -> str:
    """Return number and unit as a field shows them."""
    return decimal(format_quantity(value, unit))


def read_quantity(text: str, unit: str) -> float:
    """Return what was typed as a number in `unit`; raise QuantityError."""
    return parse_quantity(text, unit, decimal_mark())


def shown_list(values: Iterable[object]) -> str:
    """Return several figures or names in one field, parted so that they can be read again."""
    parting = "; " if decimal_mark() == "," else ", "
    return parting.join(decimal(str(value)) if isinstance(value, float) else str(value)
                        for value in values)


def listed(text: str) -> Sequence[str]:
    """Return the figures of a field with several; a comma between digits may be a decimal mark."""
    parting = r";|,\s" if decimal_mark() == "," else r"[;,]"
    return [part.strip() for part in re.split(parting, text) if part.strip()]
