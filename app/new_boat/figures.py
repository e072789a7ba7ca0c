"""The figures of a new boat: what is usual, each a row with its unit and where it is from."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from model.table_files import table_rows

# How the rows of a chemistry begin.
KIN = {"flooded": "lead", "agm": "agm", "lfp": "lfp"}


@cache
def _figures() -> Mapping[str, float]:
    return {row["figure"]: float(row["value"]) for row in table_rows("new_boat_figures")}


def figure(name: str) -> float:
    """Return a figure of the table of new boats, in the unit of its row."""
    return _figures()[name]


def volts(name: str, nominal_v: float) -> float:
    """Return a figure of a 12 V system at other nominal volts: twice as much at 24 V. [V]"""
    return round(figure(f"{name}_12v") * nominal_v / 12, 2)


def charging_fields(chemistry: str, nominal_v: float) -> dict[str, float]:
    """Return the charging volts of a chemistry on a system of some volts."""
    kin = KIN[chemistry]
    return {"absorption_v": volts(f"{kin}_absorption", nominal_v),
            "float_v": volts(f"{kin}_float", nominal_v)}
