"""Which arrays lie at a solar controller's input, and which stand one on the other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.reach import ever_joined, reach
from model.diagram import Component
from model.graph import Edge, TerminalGraph

Row = tuple[Component, ...]
"""Arrays in series, from the plus of the first to the minus of the last."""


@dataclass(frozen=True, slots=True)
class SolarInput:
    """A controller and the rows of arrays side by side at its input; a row is mostly one array."""

    controller: Component
    rows: tuple[Row, ...]

    @property
    def arrays(self) -> tuple[Component, ...]:
        """Return all arrays once."""
        return tuple({array.id: array for row in self.rows for array in row}.values())

    @property
    def where(self) -> tuple[str, ...]:
        """Return the controller's id and those of its arrays."""
        return (self.controller.id, *(array.id for array in self.arrays))

    def unknown(self, *fields: str) -> tuple[str, ...]:
        """Return which of these fields the arrays do not state ("G6.panel_w")."""
        return tuple(f"{array.id}.{name}" for array in self.arrays for name in fields
                     if name not in array.parameters)


def solar_inputs(graph: TerminalGraph) -> tuple[SolarInput, ...]:
    """Return the controllers that arrays are joined to, in any position of a switch."""
    return graph.once("solar inputs", lambda: tuple(_inputs(graph)))


def _inputs(graph: TerminalGraph) -> Iterator[SolarInput]:
    components = graph.diagram.components
    arrays = [part for _, part in sorted(components.items())
              if part.kind == "solar_array" and part.stored is not True]
    for part in components.values():
        if part.kind == "solar_controller":
            joined = ever_joined(graph, [graph.number[f"{part.id}.pv+"]])
            rows = tuple(row for array in arrays if graph.number[f"{array.id}.+"] in joined
                         for row in _rows(graph, (array,), arrays))
            if rows:
                yield SolarInput(part, rows)


def _rows(graph: TerminalGraph, row: Row, arrays: list[Component]) -> Iterator[Row]:
    """Yield a row with each way it goes on: an array whose plus is joined to its minus."""
    minus = reach(graph, [graph.number[f"{row[-1].id}.-"]], _joined)
    below = [array for array in arrays if graph.number[f"{array.id}.+"] in minus]
    for array in below:
        if array not in row:
            yield from _rows(graph, (*row, array), arrays)
    if not below:
        yield row


def _joined(edge: Edge, _node: int) -> bool:
    return edge.role not in ("load", "source", "converter")


def row_v(row: Row, field: str) -> float:
    """Return the volts of a row by a field of one panel, at least: a count that is not stated is
    one. [V].
    """
    return float(sum(array.parameters[field] * array.parameters.get("series_count", 1)
                     for array in row))


def array_a(array: Component) -> float:
    """Return an array's short-circuit current, likewise. [A]."""
    return float(array.parameters["panel_isc_a"] * array.parameters.get("parallel_count", 1))


def array_w(array: Component) -> float:
    """Return an array's power, likewise. [W]."""
    p = array.parameters
    return float(p["panel_w"] * p.get("series_count", 1) * p.get("parallel_count", 1))
