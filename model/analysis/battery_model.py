"""A bank as an EMF behind a resistance: rest voltage by charge, resistance by what is known.

The resistance comes from the maker's figure, the maker's short-circuit current, the cranking test,
or chemistry and capacity, in that order; the answer says which.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from model.kinds.storage import nominal_v
from model.table_files import table_rows

Parameters = Mapping[str, Any]

# Rest voltage tables of `ocv_soc.csv` by chemistry: the row name's beginning.
_TABLES = {
    "flooded": "flooded lead-acid (BCI", "agm": "AGM", "gel": "gel", "lfp": "LFP 4 cells",
}
# Resistance of a 12 V block of 100 Ah at room temperature, new. [ohm]. Rule catalogue's words:
# "an assumption": 5 milliohm flooded, 3 AGM, 2.5 lithium; gel as AGM, from memory.
_OHM_12V_100AH = {"flooded": 0.005, "agm": 0.003, "gel": 0.003, "lfp": 0.0025,
                  "other_lithium": 0.0025}
# A cranking test ends at 1.2 V a cell, 7.2 V of a 12 V block: ABYC E-9 (1990), battery formulas.
# At rest and full, 12.6 V: common practice, no source.
CRANKING_END_V, CRANKING_REST_V = 7.2, 12.6
BLOCK_V = 12.0


@dataclass(frozen=True, slots=True)
class Stated:
    """A figure and where it comes from; `value` is None when nothing tells."""

    value: float | None
    basis: str


def resistance_ohm(parameters: Parameters) -> Stated:
    """Return the whole bank's internal resistance and what it was taken from. [ohm]."""
    own = parameters.get("internal_resistance_ohm")
    if own is not None:
        return Stated(float(own), "maker's resistance")
    volts = nominal_v(parameters)
    short_a = parameters.get("short_circuit_a")
    if short_a and volts is not None:
        emf = rest_v(parameters, 1.0).value or volts
        return Stated(emf / short_a, "maker's short-circuit current")
    cranking_a = parameters.get("cranking_a")
    if cranking_a and volts is not None:
        blocks = volts / BLOCK_V
        ohm = (CRANKING_REST_V - CRANKING_END_V) * blocks / cranking_a
        return Stated(ohm, "cranking current")
    capacity = parameters.get("capacity_ah")
    base = _OHM_12V_100AH.get(parameters.get("chemistry", ""))
    if capacity and base is not None and volts is not None:
        return Stated(base * (volts / BLOCK_V) * 100 / capacity, "chemistry and capacity")
    return Stated(None, "unknown")


def rest_v(parameters: Parameters, state_of_charge: float) -> Stated:
    """Return the rest voltage of the bank at a state of charge from 0 to 1. [V].

    Linear between the rows of the chemistry's table, scaled by nominal volts. Unknown chemistry
    has its nominal volts; unknown volts have none.
    """
    volts = nominal_v(parameters)
    if volts is None:
        return Stated(None, "unknown")
    stated = parameters.get("rest_v")
    if stated is not None:
        return Stated(float(stated), "stated rest voltage")
    start = _TABLES.get(parameters.get("chemistry", ""))
    if start is None:
        return Stated(volts, "nominal voltage")
    rows = _first_table([row for row in table_rows("ocv_soc")
                         if row["chemistry"].startswith(start)])
    points = sorted((float(row["state_of_charge_percent"]) / 100,
                     float(row["open_circuit_voltage_12v_v"])) for row in rows)
    charge = min(max(state_of_charge, points[0][0]), points[-1][0])
    for (low, low_v), (high, high_v) in zip(points, points[1:], strict=False):
        if low <= charge <= high:
            share = 0.0 if high == low else (charge - low) / (high - low)
            value = (low_v + (high_v - low_v) * share) * volts / BLOCK_V
            return Stated(value, rows[0]["source"])
    return Stated(points[-1][1] * volts / BLOCK_V, rows[0]["source"])


def _first_table(rows: list[Mapping[str, str]]) -> list[Mapping[str, str]]:
    return [row for row in rows if row["chemistry"] == rows[0]["chemistry"]]


# Names of the chemistries in `battery_chemistry.csv`.
CHEMISTRY_ROWS = {"flooded": "flooded lead-acid", "agm": "AGM lead-acid", "gel": "gel lead-acid",
                  "lfp": "LFP (4 cells)"}
RATED_HOURS = 20  # capacity is stated for a discharge in so many hours


def peukert_exponent(parameters: Parameters) -> Stated:
    """Return Peukert's exponent: the middle of its chemistry's range in `battery_chemistry.csv`."""
    name = CHEMISTRY_ROWS.get(parameters.get("chemistry", ""))
    for row in table_rows("battery_chemistry"):
        if row["chemistry"] == name and row["parameter"] == "peukert_exponent":
            middle = (float(row["value_min"]) + float(row["value_max"])) / 2
            return Stated(middle, row["source"])
    return Stated(None, "unknown")


def peukert_ah(capacity_ah: float, current_a: float, exponent: float) -> float:
    """Return what a full bank gives at a current. [Ah]: C (I20 / I)^(n - 1), Peukert's law.

    Capacity is the 20-hour one and I20 = C / 20. Never more than that capacity: the law holds for
    faster discharges than the stated one.
    """
    slow_a = capacity_ah / RATED_HOURS
    if current_a <= slow_a:
        return capacity_ah
    return float(capacity_ah * (slow_a / current_a) ** (exponent - 1))


def available_ah(parameters: Parameters, current_a: float) -> Stated:
    """Return what the bank gives from full to empty at a current, and whose exponent. [Ah]."""
    capacity, exponent = parameters.get("capacity_ah"), peukert_exponent(parameters)
    if not capacity or exponent.value is None:
        return Stated(None, "unknown")
    return Stated(peukert_ah(capacity, current_a, exponent.value), exponent.basis)


# What share of its capacity a bank takes an hour: upper ends of `battery_chemistry.csv`.
_ACCEPTS_C = {"flooded": 0.2, "agm": 0.4, "gel": 0.2, "lfp": 0.5, "other_lithium": 0.5}


def accepts_a(parameters: Parameters) -> Stated:
    """Return the largest charging current the bank takes. [A]."""
    own = parameters.get("max_charge_a")
    if own is not None:
        return Stated(float(own), "maker's charging current")
    capacity, share = parameters.get("capacity_ah"), _ACCEPTS_C.get(parameters.get("chemistry", ""))
    if capacity and share is not None:
        return Stated(capacity * share, "chemistry and capacity")
    return Stated(None, "unknown")
