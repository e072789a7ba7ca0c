"""Drawn negatives over which loads of two voltages return: what each system sends through them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.analysis.design_current import short_time_loads
from model.analysis.fed_by import fed_by
from model.analysis.negatives import is_drawn, negative_reach

if TYPE_CHECKING:
    from model.survey import Survey


@dataclass(frozen=True, slots=True)
class SharedReturn:
    """A conductor, and the loads of each nominal voltage whose return passes it one way. [V]."""

    conductor: str
    loads: Mapping[float, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class _Returning:
    load: str
    volts: float
    minus: int
    homes: frozenset[int]


def shared_returns(survey: Survey) -> Iterator[SharedReturn]:
    """Yield each drawn negative that alone carries the returns of two voltages or more."""
    graph = survey.graph
    loads = _returning(survey)
    if len({one.volts for one in loads}) < 2:
        return
    for edge in graph.edges:
        if edge.role != "conductor" or edge.core != "-":
            continue
        for start in (edge.a, edge.b):
            beyond = negative_reach(graph, [start], [edge.owner])
            if edge.other(start) in beyond:
                break
            by_volts: dict[float, list[str]] = {}
            for one in loads:
                if one.minus in beyond and not one.homes & beyond:
                    by_volts.setdefault(one.volts, []).append(one.load)
            if len(by_volts) > 1:
                yield SharedReturn(edge.owner, {v: tuple(own) for v, own in by_volts.items()})


def _returning(survey: Survey) -> list[_Returning]:
    """Return the loads with drawn negatives: volts, minus, and the minus of what feeds them."""
    graph, found = survey.graph, []
    for edge in graph.edges:
        if edge.role != "load" or not is_drawn(graph, edge.b):
            continue
        volts = survey.potentials[edge.a].nominal_v
        homes = {graph.number[f"{battery}.-"] for battery in fed_by(graph, [edge.a])}
        joined = negative_reach(graph, [edge.b])
        if volts is not None and homes & joined:
            found.append(_Returning(edge.owner, volts, edge.b, frozenset(homes & joined)))
    return found


def most_a(survey: Survey, loads: tuple[str, ...], currents: Mapping[str, float]) -> float:
    """Return what loads of one system may draw together: all lasting ones and the largest of
    those that run for short times. [A]."""
    short = set(short_time_loads(survey))
    brief = [currents.get(item, 0.0) for item in loads if item in short]
    return sum(currents.get(item, 0.0) for item in loads if item not in short) + max(
        brief, default=0.0)
