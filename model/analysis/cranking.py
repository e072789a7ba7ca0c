"""The ways a starter is cranked: as the switches usually stand, and from each other battery that a
selector or a link brings.

Only what changes who cranks is solved anew: a boat without such a switch costs nothing. At a
selector each bank is judged alone, for both together lose less. Where a link joins another
battery to the usual one, that one is in need and taken to give nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from msgspec import Struct

from model.analysis.design_current import running, solved_while_running
from model.analysis.fed_by import starters_fed
from model.analysis.starter import is_emergency_link
from model.analysis.voltage_drop import Drop, drop_in
from model.graph import TerminalGraph, full_id

if TYPE_CHECKING:
    from model.survey import Survey

ALONE = ("1", "2")  # the positions of a selector in which one bank cranks


class Turned(Struct, frozen=True):
    """A switch in another position than usual, in which other batteries crank a starter.

    `spent` are the usual batteries that it joins to them: they give nothing.
    """

    starter: str
    switch: str
    position: str
    spent: frozenset[str] = frozenset()


class Cranked(Struct, frozen=True):
    """A starter's drop while it cranks, and which switch is turned for it, none as usual."""

    drop: Drop
    turned: Turned | None = None

    @property
    def in_need(self) -> bool:
        """Say whether it is cranked like this only when the usual battery is flat."""
        return self.turned is not None and bool(self.turned.spent)


def cranked(survey: Survey) -> tuple[Cranked, ...]:
    """Return each way in which each starter is cranked, the usual one first."""
    starters = {c.id for c in survey.diagram.components.values() if c.kind == "starter"}
    found = [Cranked(drop) for drop in survey.drops if drop.item in starters]
    for turned in _turned(survey.graph):
        case = running(turned.starter)
        point = solved_while_running(
            survey, turned.starter, {turned.switch: turned.position}, turned.spent)
        drop = drop_in(survey, turned.starter, case, point, turned.spent)
        if drop is not None:
            found.append(Cranked(drop, turned))
    return tuple(found)


def _turned(graph: TerminalGraph) -> tuple[Turned, ...]:
    """Return the switches in the positions that change who cranks."""
    return graph.of_wiring("turned to crank", lambda: tuple(_turning(graph)))


def _turning(graph: TerminalGraph) -> Iterator[Turned]:
    others = list(_other_positions(graph))
    usual = starters_fed(graph) if others else {}
    for handle, position in others if usual else ():
        is_link = position not in ALONE
        for starter, batteries in starters_fed(graph, {handle: position}).items():
            joined = batteries & usual[starter]
            if batteries in (usual[starter], frozenset()):
                continue
            yield Turned(starter, handle, position, joined if is_link else frozenset())


def _other_positions(graph: TerminalGraph) -> Iterator[tuple[str, str]]:
    """Yield the switches of banks with each position that is not their usual one."""
    for part in graph.diagram.components.values():
        handle = full_id(part.id, "")
        if part.kind == "selector_switch":
            yield from ((handle, one) for one in ALONE if one != graph.normal[handle])
        elif (part.kind == "battery_switch" or is_emergency_link(graph, part.id)) and (
                graph.normal.get(handle) == "off"):
            yield handle, "on"
