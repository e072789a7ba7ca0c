"""Charge paths with volts: does a bank receive what its chemistry needs, and if not, what takes it.

Asked for a nearly full bank, which takes little current: only then does the charging voltage tell.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from model.analysis.battery_model import CHEMISTRY_ROWS
from model.kinds.storage import nominal_v
from model.table_files import table_rows

if TYPE_CHECKING:
    from model.survey import Survey

ENOUGH_V = 0.1  # of 12 V: closer than this counts as reached; common practice, no source
FULL = 1.0


@dataclass(frozen=True, slots=True)
class BankCharge:
    """What a bank gets in a mode. `short_v` is what is missing; `takes` what takes it, in volts.

    `needed_v` is None when the chemistry or the volts are not stated.
    """

    bank: str
    mode: str
    volts: float
    needed_v: float | None
    short_v: float
    sources: tuple[str, ...]
    takes: tuple[tuple[str, float], ...]


def needed_v(parameters: Mapping[str, Any]) -> float | None:
    """Return the lowest absorption voltage of a bank's chemistry. [V]; battery_chemistry.csv."""
    volts = nominal_v(parameters)
    name = CHEMISTRY_ROWS.get(parameters.get("chemistry", ""))
    if volts is None or name is None:
        return None
    rows = [float(row["value_min"]) for row in table_rows("battery_chemistry")
            if row["chemistry"] == name and row["parameter"] == "absorption_voltage_12v"]
    return min(rows) * volts / 12 if rows else None


def charging_volts(survey: Survey, mode_id: str | None = None) -> list[BankCharge]:
    """Return what each battery receives in a mode, all sources of the mode giving."""
    charge = {c.id: FULL for c in survey.diagram.components.values()}
    state = replace(survey.state(mode_id), charge=charge, tail_charge=True, loads_run=False)
    point = survey.operating_point(state)
    found = []
    for component in survey.diagram.components.values():
        if component.kind != "battery_bank" or component.stored is True:
            continue
        volts = point.terminals[f"{component.id}.+"] - point.terminals[f"{component.id}.-"]
        needed = needed_v(component.parameters)
        blocks = (nominal_v(component.parameters) or 12.0) / 12
        short = 0.0 if needed is None else max(0.0, needed - volts)
        short = 0.0 if short <= ENOUGH_V * blocks else short
        sources = tuple(sorted(
            s for s in survey.charge_sources.get(_bank_of(survey, component.id), ())
            if s in state.sources))
        takes = _takers(survey, component.id, sources, point.terminals) if short else ()
        found.append(BankCharge(component.id, mode_id or "", volts, needed, short, sources, takes))
    return found


def _bank_of(survey: Survey, battery: str) -> str:
    return next((bank.id for bank in survey.banks if battery in bank.batteries), battery)


def _takers(
    survey: Survey, battery: str, sources: tuple[str, ...], terminals: Mapping[str, float]
) -> tuple[tuple[str, float], ...]:
    """Return what lies between the nearest source and the battery, with the volts it takes."""
    graph = survey.graph
    goal = graph.number[f"{battery}.+"]
    starts = [graph.number[f"{s}.+"] for s in sources if f"{s}.+" in graph.number]
    came: dict[int, int] = dict.fromkeys(starts, -1)
    queue = deque(starts)
    while queue:
        node = queue.popleft()
        if node == goal:
            break
        for number in graph.edges_at[node]:
            edge = graph.edges[number]
            if edge.role in ("load", "source") or (edge.one_way and edge.a != node):
                continue
            after = edge.other(node)
            if after not in came:
                came[after] = number
                queue.append(after)
    takes: dict[str, float] = {}
    node = goal
    while came.get(node, -1) >= 0:
        edge = graph.edges[came[node]]
        before = edge.other(node)
        lost = terminals[graph.names[before]] - terminals[graph.names[node]]
        if edge.role != "converter" and lost > 1e-3:
            takes[edge.owner] = takes.get(edge.owner, 0.0) + lost
        node = before
    return tuple(sorted(takes.items(), key=lambda item: -item[1]))
