"""Bundles: DC power conductors that lie together and may all be loaded at once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.analysis.leads import posts_of
from model.analysis.runs import is_dc_power
from model.analysis.served import served

if TYPE_CHECKING:
    from model.survey import Survey


@dataclass(frozen=True, slots=True)
class Bundle:
    """The drawn conductors of a bundle, and how many lie in it."""

    conductors: tuple[str, ...]
    count: int


def bundles(survey: Survey) -> tuple[Bundle, ...]:
    """Return the bundles by name, and those of one drawn conductor that states a count.

    Of conductors whose loads never run together the first stands for all.
    """
    named: dict[str, list[str]] = {}
    found: list[Bundle] = []
    for wire in survey.diagram.conductors.values():
        edges = survey.graph.edges_of.get(wire.id, ())
        if not any(is_dc_power(survey.graph, edge) for edge in edges):
            continue
        if wire.bundle:
            named.setdefault(wire.bundle, []).append(wire.id)
        elif (wire.bundle_count or 1) > 1:
            found.append(Bundle((wire.id,), wire.bundle_count or 1))
    for items in named.values():
        stated = [survey.diagram.conductors[item].bundle_count or 1 for item in items]
        apart = _together(survey, items)
        # A stated count is of all that lie there; what never runs together is taken off it.
        found.append(Bundle(apart, max(max(stated) - len(items) + len(apart), len(apart))))
    return tuple(found)


def _together(survey: Survey, items: list[str]) -> tuple[str, ...]:
    """Return the conductors without those that rest while an earlier one is loaded."""
    seen: set[str] = set()
    kept = []
    for item in items:
        groups = _never_with(survey, item)
        if not groups or not groups <= seen:
            kept.append(item)
        seen |= groups
    return tuple(kept)


def _never_with(survey: Survey, item: str) -> frozenset[str]:
    """Return the groups of loads that never run together, of the loads a conductor serves."""
    posts = posts_of(survey.zones)
    for edge in survey.graph.edges_of[item]:
        for node in (edge.a, edge.b):
            reached = served(survey.graph, edge, node, posts)
            if reached.loads and not reached.batteries:
                parts = (survey.diagram.components[load] for load in reached.loads)
                return frozenset(
                    group for part in parts if (group := part.parameters.get("never_with")))
    return frozenset()
