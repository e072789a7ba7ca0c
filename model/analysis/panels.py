"""Panels as their feeders see them: the device before, the bus, the main, the ways together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from model.analysis.taps import Guard
from model.graph import Edge
from model.kinds.distribution import panel_ways

if TYPE_CHECKING:
    from model.diagram import Component
    from model.survey import Survey

PANELS = ("panel", "fuse_block")


@dataclass(frozen=True, slots=True)
class PanelFeed:
    """A panel's feeder with the device before it, and the panel's own ratings. [A].

    `chain` are the conductors in series that end at the panel; `rated_a` is None when that device
    has no rating stated. `unknown_ways` ("P1.w2") have none either and count nothing in `ways_a`.
    """

    panel: str
    wire: str
    device: str
    chain: tuple[str, ...]
    rated_a: float | None
    bus_a: float | None
    main_a: float | None
    ways_a: float
    unknown_ways: tuple[str, ...]


def panel_feeds(survey: Survey) -> tuple[PanelFeed, ...]:
    """Return the feeders of panels that a battery feeds through some device."""
    found = []
    for part in survey.diagram.components.values():
        if part.kind not in PANELS:
            continue
        node = survey.graph.number[f"{part.id}.in+"]
        for number in survey.graph.edges_at[node]:
            edge = survey.graph.edges[number]
            if edge.role == "conductor":
                guard = survey.guard(edge, edge.other(node))
                if guard is not None:
                    found.append(_feed(survey, part, edge, guard))
    return tuple(found)


def _feed(survey: Survey, part: Component, edge: Edge, guard: Guard) -> PanelFeed:
    chain = next((c.chain for c in (*survey.circuits, *survey.taps) if edge.owner in c.chain),
                 (edge.owner,))
    ways = [way for way in panel_ways(part.parameters, part.kind) if way.get("device") != "none"]
    main: Mapping[str, Any] = (part.parameters.get("main") or ({},))[0]
    return PanelFeed(
        part.id, edge.owner, guard.unknown[0] if guard.unknown else guard.device, chain,
        None if guard.unknown else guard.rated_a,
        part.parameters.get("bus_rated_a"), main.get("rated_a"),
        sum(way.get("rated_a") or 0.0 for way in ways if not way.get("spare")),
        tuple(f"{part.id}.{way['id']}" for way in ways if way.get("rated_a") is None))
