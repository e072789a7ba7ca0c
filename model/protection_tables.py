"""Looking up the shipped tables of fuses: their classes, and what a device must break by bank.

Figures carry their source and whether they were read there, as in `model/tables.py`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Literal

from model.table_files import table_rows
from model.tables import TableFigure, source_text

# The table's classes by the words of the field `class` of a fuse.
_CLASS_OF = {"Class T": "class_t", "ANL": "bolted", "MRBF": "terminal", "MEGA": "bolted",
             "MIDI": "bolted", "MAXI": "blade", "ATO": "blade", "ATM": "blade",
             "Sub-mini": "blade", "AGC": "glass"}
# The columns of interrupting ratings with the highest volts they hold for. [V].
_COLUMNS = {"interrupting_a_at_12to14v": 14.0, "interrupting_a_at_24to32v": 32.0,
            "interrupting_a_at_48to58v": 58.0}
_CCA = re.compile(r"CCA (?:<= (?P<most>\d+)|(?P<from>\d+)-(?P<to>\d+) A|> (?P<above>\d+))")


@dataclass(frozen=True, slots=True)
class FuseClass:
    """A row of the table: its name, field word, ratings [A], the volts it is made for [V], and
    what it breaks [A] by the highest volts that holds for. `confirmed` are those [A] that were
    read in a source."""

    name: str
    word: str
    ratings_a: tuple[float, ...]
    made_for_v: tuple[float, ...]
    interrupts_a: Mapping[float, float]
    source: str
    confirmed: frozenset[float]

    def interrupt_a(self, nominal_v: float) -> TableFigure | None:
        """Return what it breaks on a system of these nominal volts, None when not told. [A]"""
        for column_v, amperes in self.interrupts_a.items():
            if nominal_v <= column_v:
                return TableFigure(amperes, self.source, amperes in self.confirmed)
        return None


@cache
def fuse_classes() -> tuple[FuseClass, ...]:
    """Return the classes of fuses in the table's order."""
    return tuple(_fuse_class(row) for row in table_rows("fuse_classes"))


def _fuse_class(row: Mapping[str, str]) -> FuseClass:
    name = row["fuse_class"]
    word = next(word for start, word in _CLASS_OF.items() if name.startswith(start))
    interrupts = {volts: float(found[0]) for column, volts in _COLUMNS.items()
                  if (found := re.match(r"\d+", row[column]))}
    ratings = tuple(float(r) for r in row["common_standard_ratings_a"].split(",") if r)
    volts = tuple(sorted(float(v) for v in re.findall(r"\b\d{2,3}\b", row["max_dc_voltage_v"])))
    return FuseClass(name, word, ratings, volts, interrupts, source_text(row["source"]),
                     _confirmed_a(row["confirmation"], interrupts))


def _confirmed_a(confirmation: str, interrupts: Mapping[float, float]) -> frozenset[float]:
    """Return the interrupting ratings that a row's remark says were read in a source. [A]"""
    if confirmation.startswith("confirmed"):
        return frozenset(interrupts.values())
    first = confirmation.partition(";")[0]
    told = re.findall(r"(\d+) (k?)A\b", first) if "confirmed" in first else []
    return frozenset(float(figure) * (1000 if kilo else 1) for figure, kilo in told)


@cache
def device_volts() -> tuple[float, ...]:
    """Return the DC volts that fuses are made for, lowest first. [V]"""
    return tuple(sorted({volts for row in fuse_classes() for volts in row.made_for_v
                         if row.interrupts_a}))


@dataclass(frozen=True, slots=True)
class ClassInterrupts:
    """What fuses of a class break at least and at most, by whose row. [A]."""

    low: TableFigure
    high: TableFigure


@cache
def class_interrupts_a(word: str, nominal_v: float) -> ClassInterrupts | None:
    """Return between which figures a class's interrupting ratings lie, None when none is told."""
    found = [figure for row in fuse_classes()
             if row.word == word and (figure := row.interrupt_a(nominal_v)) is not None]
    if not found:
        return None
    return ClassInterrupts(min(found, key=lambda f: f.value), max(found, key=lambda f: f.value))


@cache
def least_interrupt_a() -> float:
    """Return the smallest interrupting rating of any class in the table. [A]"""
    return min(a for row in fuse_classes() for a in row.interrupts_a.values())


Place = Literal["main", "branch"]


@cache
def needed_interrupt_a(nominal_v: float, cranking_a: float, place: Place) -> TableFigure | None:
    """Return what the first device of a lead bank, or one behind it, must break. [A]

    ABYC E-11, by the bank's volts and its whole cranking rating. None outside the table's volts.
    """
    column = {"main": "main_device_min_interrupting_a",
              "branch": "branch_breaker_min_interrupting_a"}[place]
    for row in table_rows("breaker_interrupting_capacity"):
        found = _CCA.search(row["condition"])
        if not found or not _is_of_volts(row["system"], nominal_v):
            continue
        low = float(found["from"] or found["above"] or 0)
        high = float(found["to"] or found["most"] or "inf")
        if (low < cranking_a or not found["above"]) and cranking_a <= high:
            return TableFigure(float(row[column]), source_text(row["source"]),
                               row["confirmation"].startswith("confirmed"))
    return None


def _is_of_volts(system: str, nominal_v: float) -> bool:
    found = re.match(r"(\d+)(?:-(\d+))? V DC", system)
    return found is not None and float(found[1]) <= nominal_v <= float(found[2] or found[1])


@cache
def interrupt_steps_a() -> tuple[float, ...]:
    """Return the interrupting ratings that the table by banks asks for, smallest first. [A]"""
    columns = ("main_device_min_interrupting_a", "branch_breaker_min_interrupting_a")
    told = {float(row[c]) for row in table_rows("breaker_interrupting_capacity") for c in columns
            if row["system"].endswith("DC") and row[c].isdigit()}
    return tuple(sorted({*told, large_bank().suffices_a}))


@dataclass(frozen=True, slots=True)
class LargeBank:
    """From which cranking rating [A] and capacity [Ah] a bank is large, what then suffices where
    its maker's short-circuit figure is above another one [A], and where that stands."""

    above_cranking_a: float
    above_ah: float
    suffices_a: float
    where_above_a: float
    source: str


@cache
def large_bank() -> LargeBank:
    """Return the clause of ABYC E-11 on large banks."""
    row = next(r for r in table_rows("breaker_interrupting_capacity")
               if r["condition"].startswith("bank >"))
    bounds = re.search(r"> (\d+) CCA or > (\d+) Ah", row["condition"])
    cap = re.search(r"or (\d+) at .* exceeds (\d+)", row["main_device_min_interrupting_a"])
    assert bounds
    assert cap
    return LargeBank(float(bounds[1]), float(bounds[2]), float(cap[1]), float(cap[2]),
                     source_text(row["source"]))
