"""Loads whose current nobody stated, and what the devices before them let through to them."""

from __future__ import annotations

import math
from collections.abc import Iterable

from msgspec import Struct

from model.analysis.protection import UNKNOWN_RATING
from model.diagram import Component
from model.survey import Survey
from rules.ordering import in_order

NO_CURRENT_ASKED = frozenset({"monitor", "box", "inverter", "inverter_charger"})
CURRENT_FIELDS = frozenset({"current_a", "power_w", "resistance_ohm", "cranking_a"})


class Unstated(Struct, frozen=True):
    """Loads of unstated current behind one device, and what that lets through to all of them [A]:
    infinite where no device, or one of unknown rating, is before them.
    """

    loads: tuple[str, ...]
    most_a: float


def lacks_current(load: Component) -> bool:
    """Say whether what a load draws is not recorded in any of the ways it can be."""
    return load.kind not in NO_CURRENT_ASKED and not CURRENT_FIELDS & set(load.parameters)


def asked_current(load: Component) -> str:
    """Return the field that would say what a load draws."""
    return f"{load.id}.{'cranking_a' if load.kind == 'starter' else 'current_a'}"


def unstated_aboard(survey: Survey) -> frozenset[str]:
    """Return all DC loads of unstated current."""
    parts = survey.diagram.components
    return survey.graph.once("loads of unstated current", lambda: frozenset(
        edge.owner for edge in survey.graph.edges if edge.role == "load"
        and f"{edge.owner}.+" in survey.graph.number and lacks_current(parts[edge.owner])))


def unstated(loads: Iterable[str], survey: Survey) -> tuple[Unstated, ...]:
    """Return of some loads those of unstated current, by the device before them."""
    found: dict[tuple[str, float], list[str]] = {}
    for item in in_order(unstated_aboard(survey).intersection(loads)):
        device, most_a = _device_before(item, survey)
        found.setdefault((device or item, most_a), []).append(item)
    return tuple(Unstated(tuple(items), most_a) for (_, most_a), items in found.items())


def _device_before(load: str, survey: Survey) -> tuple[str, float]:
    """Return the worst device before a load, with its rating. [A]"""
    graph = survey.graph
    feeds = [feed for node, edge in graph.neighbours[graph.number[f"{load}.+"]]
             if (feed := survey.protection.worst(edge, node)) is not None]
    if not feeds or any(feed.rated_a >= UNKNOWN_RATING for feed in feeds):
        return "", math.inf
    worst = max(feeds, key=lambda feed: feed.rated_a)
    return worst.device, worst.rated_a
