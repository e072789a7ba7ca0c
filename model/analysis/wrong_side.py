"""Parts connected the wrong way round: a plus terminal on the negative, or a minus on the positive.

The side of a terminal is walked from the batteries; what no battery reaches has none. A part whose
plus lies above its minus, as between two taps of a bank, is right whatever the sides are called.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.analysis.voltage_drop import PANELS
from model.diagram import Component
from model.graph import Edge
from model.kinds import kind_of

if TYPE_CHECKING:
    from model.survey import Survey

POLED_ROLES = ("load", "converter", "source")


@dataclass(frozen=True, slots=True)
class WrongSide:
    """A terminal of a part on the wrong side, the pole it wants, and the conductors there."""

    item: str
    terminal: str
    wants: str
    conductors: tuple[str, ...]


def wrong_sides(survey: Survey) -> Iterator[WrongSide]:
    """Yield the parts connected the wrong way round, each once.

    What hangs on a panel that is itself reversed is not counted: the panel is the cause.
    """
    for part in survey.diagram.components.values():
        if part.kind in PANELS or kind_of(part).role in POLED_ROLES:
            found = next(_of_part(part, survey), None)
            if found is not None and not _hangs_on_reversed(part, survey):
                yield found


def plus_and_minus(part: Component, survey: Survey) -> tuple[str, str]:
    """Return a part's plus terminal, the first that is connected, and its minus."""
    pluses = [terminal for terminal, wants in _poled(part) if wants == "+"]
    used = [name for name in pluses if cores_at(survey, f"{part.id}.{name}")]
    return next(iter([*used, *pluses]), ""), "-"


def cores_at(survey: Survey, terminal: str) -> list[Edge]:
    """Return the cores of conductors at a terminal ("E1.+"), none for one that is not there."""
    node = survey.graph.number.get(terminal)
    numbers = [] if node is None else survey.graph.edges_at[node]
    edges = (survey.graph.edges[number] for number in numbers)
    return [edge for edge in edges if edge.role == "conductor"]


def _of_part(part: Component, survey: Survey) -> Iterator[WrongSide]:
    for terminal, wants in _poled(part):
        name = f"{part.id}.{terminal}"
        wires = tuple(edge.owner for edge in cores_at(survey, name))
        if not wires:
            continue
        side = survey.potentials[survey.graph.number[name]].side
        if side in ("+", "-") and side != wants and not _is_above(part, survey):
            yield WrongSide(part.id, terminal, wants, wires)


def _poled(part: Component) -> Iterator[tuple[str, str]]:
    """Yield the terminals of a part that want one pole, each once; ways of panels want none."""
    seen = set()
    for port in kind_of(part).ports(part.parameters):
        for pole, terminal in port.poles.items():
            is_way = part.kind in PANELS and port.id not in ("in", "-")
            if pole in ("+", "-") and terminal not in seen and not is_way:
                seen.add(terminal)
                yield terminal, pole


def _is_above(part: Component, survey: Survey) -> bool:
    """Say whether a part's plus lies above its minus."""
    names = [f"{part.id}.{name}" for name in plus_and_minus(part, survey)]
    if not all(cores_at(survey, name) for name in names):
        return False
    high, low = (survey.potentials[survey.graph.number[name]].nominal_v for name in names)
    return high is not None and low is not None and high > low


def _hangs_on_reversed(part: Component, survey: Survey) -> bool:
    for edge in survey.graph.edges_of.get(part.id, ()):
        for node in (edge.a, edge.b):
            for core in cores_at(survey, survey.graph.names[node]):
                far = survey.diagram.components[survey.graph.component_of[core.other(node)]]
                if far.kind in PANELS and far.id != part.id and any(_of_part(far, survey)):
                    return True
    return False
