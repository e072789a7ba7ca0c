"""What stays joined to a lithium battery when the contactors of its management unit have opened."""

from __future__ import annotations

from collections.abc import Mapping, Set
from dataclasses import dataclass

from model.analysis.charging import charged_in, outlets
from model.analysis.fed_by import fed_loads
from model.analysis.management import driven, is_stopped, opened
from model.analysis.negatives import converter_minuses, over_converters
from model.analysis.reach import stiff_reach
from model.diagram import Component
from model.graph import TerminalGraph
from model.survey import Survey
from rules.always_on import is_always_on
from rules.ordering import in_order


@dataclass(frozen=True, slots=True)
class Joined:
    """The charging sources and the loads on a battery; `unsaid` are loads of which it would have
    to be known whether they are meant to stay live.
    """

    sources: tuple[str, ...]
    loads: tuple[str, ...]
    unsaid: tuple[str, ...]


def left_joined(survey: Survey, battery: Component, unit: Component) -> Joined:
    """Return what charges a battery with all contactors open that open for charging, and what
    drains it with all open that open for the loads.

    What the unit stops first is parted by that; a source that it only limits goes on giving.
    Monitors, bilge pumps and the like are meant to stay; what has no way home is joined to nothing.
    """
    contactors = driven(survey.diagram, unit)
    return _joined(survey, battery, unit, opened(survey.graph, contactors, "charge"),
                   opened(survey.graph, contactors, "load"))


def all_joined(
    survey: Survey, battery: Component, unit: Component, positions: Mapping[str, str] | None = None
) -> Joined:
    """Return the same with no contactor open, and switches in some positions."""
    return _joined(survey, battery, unit, positions or {}, positions or {})


def _joined(
    survey: Survey, battery: Component, unit: Component, no_charge: Mapping[str, str],
    no_load: Mapping[str, str],
) -> Joined:
    graph, parts = survey.graph, survey.diagram.components
    lost = {item for stranded in survey.no_way_home for item in stranded.items}
    sources = {outlet.source for outlet in outlets(graph)
               if battery.id in charged_in(graph, outlet.node, no_charge)
               and not is_stopped(parts[outlet.source], battery, unit)} - lost
    drains = {item for item in fed_loads(graph, [battery.id], no_load)
              if not is_stopped(parts[item], battery, unit)} - lost
    stays = {item: is_always_on(parts[item]) for item in _returned(
        graph, battery, no_load, drains)}
    return Joined(
        tuple(in_order(_returned(graph, battery, no_charge, sources))),
        tuple(in_order(item for item, meant in stays.items() if meant is False)),
        tuple(in_order(item for item, meant in stays.items() if meant is None)))


def _returned(
    graph: TerminalGraph, battery: Component, positions: Mapping[str, str], items: set[str]
) -> set[str]:
    """Return the parts whose minus no contact parts from the battery's in these positions."""
    usual, joined = (_minus(graph, battery, p) for p in ({}, positions))
    return {item for item in items if graph.number.get(f"{item}.-") not in usual - joined}


def _minus(graph: TerminalGraph, battery: Component, positions: Mapping[str, str]) -> Set[int]:
    """Return what is joined to a battery's minus, and the minus of isolated converters on it."""
    outward = {own: out for out, own in converter_minuses(graph).items()}
    joined = stiff_reach(graph, [graph.number[f"{battery.id}.-"]], positions)
    return over_converters(joined, lambda at: stiff_reach(graph, at, positions), outward)
