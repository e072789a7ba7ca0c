"""Lithium banks: batteries joined with no contact between, side by side and in series."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from model.analysis.management import lithium_batteries, unit_of
from model.analysis.reach import reach
from model.diagram import Component, Diagram
from model.graph import TerminalGraph

LimitOf = Callable[[Component], float | None]


@dataclass(frozen=True, slots=True)
class LithiumBank:
    """The batteries of a bank, stage by stage, the highest first; those of a stage lie side by
    side and share its current.
    """

    stages: tuple[tuple[Component, ...], ...]

    @property
    def batteries(self) -> tuple[Component, ...]:
        """Return all its batteries."""
        return tuple(battery for stage in self.stages for battery in stage)

    @property
    def ids(self) -> tuple[str, ...]:
        """Return their ids."""
        return tuple(battery.id for battery in self.batteries)

    @property
    def series_count(self) -> int:
        """Return how many packs carry one current."""
        return sum(max(b.parameters.get("series_count", 1) for b in stage)
                   for stage in self.stages)

    @property
    def parallel_count(self) -> int:
        """Return how many packs or strings lie side by side, where they are most."""
        return max(sum(strings(b) for b in stage) for stage in self.stages)

    def limit_a(self, limit_of: LimitOf) -> float | None:
        """Return what the weakest stage stands, the limits of its batteries summed; None when one
        of them is not known. [A].
        """
        return self._least(lambda stage: sum(limit_of(battery) or 0.0 for battery in stage),
                           limit_of)

    def limit_with_one_out_a(self, limit_of: LimitOf) -> float | None:
        """Return the same with the largest pack of a stage of several out. [A]."""
        def left_a(stage: tuple[Component, ...]) -> float:
            packs = [a / strings(battery) for battery in stage
                     for a in [limit_of(battery) or 0.0] * strings(battery)]
            return sum(packs) - (max(packs) if len(packs) > 1 else 0.0)
        return self._least(left_a, limit_of)

    def _least(
        self, of_stage: Callable[[tuple[Component, ...]], float], limit_of: LimitOf
    ) -> float | None:
        if any(limit_of(battery) is None for battery in self.batteries):
            return None
        return round(min(of_stage(stage) for stage in self.stages), 3)


def stated_limit(diagram: Diagram, bank: LithiumBank, own: str, of_unit: str) -> LimitOf:
    """Return what tells the limit of each battery of a bank [A]: its own, or its share of what the
    management unit allows to those side by side, whichever is less; None when neither is stated.
    """
    def limit_a(battery: Component) -> float | None:
        unit = unit_of(diagram, battery)
        stated = [battery.parameters.get(own)]
        if unit is not None and of_unit in unit.parameters:
            stage = next(stage for stage in bank.stages if battery in stage)
            sharing = sum(unit_of(diagram, other) == unit for other in stage)
            stated.append(unit.parameters[of_unit] / sharing)
        return min((float(a) for a in stated if a is not None), default=None)

    return limit_a


def strings(battery: Component) -> int:
    """Return how many packs or strings lie side by side in a battery drawn as one."""
    return int(battery.parameters.get("parallel_count", 1))


def lithium_banks(graph: TerminalGraph) -> tuple[LithiumBank, ...]:
    """Return the lithium banks in service, each from its highest batteries down."""
    return graph.once("lithium banks", lambda: _banks(graph))


def bank_of(graph: TerminalGraph, battery: str) -> LithiumBank:
    """Return the bank of a lithium battery in service."""
    return next(bank for bank in lithium_banks(graph) if battery in bank.ids)


def _banks(graph: TerminalGraph) -> tuple[LithiumBank, ...]:
    lithium = lithium_batteries(graph.diagram)
    tops = [one for one in lithium if not any(
        one in _at(graph, [other], "-", lithium) for other in lithium if other != one)]
    found: list[LithiumBank] = []
    for battery in (*tops, *lithium):  # in a ring of batteries none is the highest
        if not any(battery in bank.batteries for bank in found):
            found.append(_bank(graph, battery, lithium))
    return tuple(found)


def _bank(graph: TerminalGraph, top: Component, lithium: list[Component]) -> LithiumBank:
    stages: list[tuple[Component, ...]] = []
    stage = _at(graph, [top], "+", lithium)
    while stage:
        stages.append(stage)
        seen = {battery.id for one in stages for battery in one}
        stage = tuple(b for b in _at(graph, stage, "-", lithium) if b.id not in seen)
    return LithiumBank(tuple(stages))


def _at(
    graph: TerminalGraph, batteries: Iterable[Component], pole: str, lithium: list[Component]
) -> tuple[Component, ...]:
    """Return the lithium batteries whose plus is joined to one pole of some batteries."""
    joined = reach(graph, [graph.number[f"{battery.id}.{pole}"] for battery in batteries],
                   lambda edge, _: edge.role in ("conductor", "join", "overcurrent"))
    return tuple(b for b in lithium if graph.number[f"{b.id}.+"] in joined)
