"""Fixes on the side of ground: where a new conductor to ground ends, and what it is."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from model.analysis.copper import copper_mm2
from model.analysis.ground import GROUND, ground_parts, grounded, reaches_ground
from model.analysis.negatives import minus_posts
from model.diagram import Conductor
from model.kinds import kind_of
from model.survey import Survey
from rules.fixing import freest

BONDING: dict[str, Any] = {"cores": ("E",), "purpose": "bonding", "colour": "green_yellow"}


def ground_terminal(survey: Survey, beside: Collection[str] = ()) -> str | None:
    """Return the terminal of the boat's main ground with the fewest conductors, None without any.

    A ground to which a battery's negative is tied comes first, then the engine; `beside` are parts
    that are left out.
    """
    graph = survey.graph
    parts = [part for part in ground_parts(graph) if part.id not in beside]
    if not parts:
        return None
    main = min(parts, key=lambda part: (
        not reaches_ground(graph, graph.nodes_of(part.id)),
        not minus_posts(graph, grounded(graph, graph.nodes_of(part.id))),
        GROUND.index(part.kind)))
    return freest(survey.diagram, [
        f"{main.id}.{port.id}" for port in kind_of(main).ports(main.parameters)])


def size_of_thickest(wires: Collection[Conductor]) -> dict[str, Any]:
    """Return the size of the thickest of some conductors as a field, nothing when none is known."""
    known = [wire for wire in wires if wire.size is not None]
    return {} if not known else {
        "size": max(known, key=lambda wire: copper_mm2(wire) or 0.0).size}


def leads_of(survey: Survey, item: str, core: str) -> list[Conductor]:
    """Return the conductors with a core of one sort that end at a part."""
    return [wire for wire in survey.diagram.conductors.values() if core in wire.cores
            and item in {end.component for end in wire.ends()}]
