"""The figures of a new boat: what is usual, each a row with its unit and where it is from."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from model.table_files import table_rows


@cache
def _figures() -> Mapping[str, float]:
    return {row["figure"]: float(row["value"]) for row in table_rows("new_boat_figures")}


def figure(name: str) -> float:
    """Return a figure of the table of new boats, in the unit of its row."""
    return _figures()[name]
