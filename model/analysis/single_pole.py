"""The AC devices that open the live conductor alone, of what is joined to the quay."""

from __future__ import annotations

from dataclasses import dataclass

from model.analysis.alternating import (
    fed_from,
    inlets,
    live_devices,
    opens_neutral,
    poles_field,
)
from model.graph import TerminalGraph


@dataclass(frozen=True, slots=True)
class SinglePole:
    """The devices that open one pole, and the fields that would tell of the others."""

    devices: tuple[str, ...]
    unsaid: tuple[str, ...]


def single_pole(graph: TerminalGraph) -> SinglePole:
    """Return the single-pole devices that shore power reaches without a transformer between."""
    return graph.once("single pole", lambda: _single_pole(graph))


def _single_pole(graph: TerminalGraph) -> SinglePole:
    reached = {node for inlet in inlets(graph) for node in fed_from(graph, inlet.live)}
    devices: dict[str, None] = {}
    unsaid: dict[str, None] = {}
    for edge in live_devices(graph):
        both = opens_neutral(graph, edge) if edge.a in reached else True
        if both is False:
            devices[edge.item] = None
        elif both is None:
            unsaid[poles_field(graph, edge)] = None
    return SinglePole(tuple(devices), tuple(unsaid))
