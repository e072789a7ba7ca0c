"""Which arrays lie at a solar controller's input."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.reach import always_closed, reach
from model.diagram import Component
from model.graph import TerminalGraph


@dataclass(frozen=True, slots=True)
class SolarInput:
    """A controller and the arrays side by side at its input."""

    controller: Component
    arrays: tuple[Component, ...]

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
    for part in components.values():
        if part.kind == "solar_controller":
            joined = reach(graph, [graph.number[f"{part.id}.pv+"]], always_closed)
            arrays = sorted((c for c in components.values()
                             if c.kind == "solar_array" and c.stored is not True
                             and graph.number[f"{c.id}.+"] in joined), key=lambda c: c.id)
            if arrays:
                yield SolarInput(part, tuple(arrays))


def string_v(array: Component, field: str) -> float:
    """Return the volts of an array's strings by a field of one panel, at least: a count that is not
    stated is one. [V].
    """
    return float(array.parameters[field] * array.parameters.get("series_count", 1))


def array_a(array: Component) -> float:
    """Return an array's short-circuit current, likewise. [A]."""
    return float(array.parameters["panel_isc_a"] * array.parameters.get("parallel_count", 1))


def array_w(array: Component) -> float:
    """Return an array's power, likewise. [W]."""
    p = array.parameters
    return float(p["panel_w"] * p.get("series_count", 1) * p.get("parallel_count", 1))
