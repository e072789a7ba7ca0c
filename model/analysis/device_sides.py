"""Each DC fuse and breaker from the side a battery feeds it, with what it serves."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from model.analysis.polarity import Potential
from model.analysis.protection import ProtectionTable
from model.analysis.served import Served, served
from model.graph import Edge, TerminalGraph


@dataclass(frozen=True, slots=True)
class DeviceSide:
    """A device's terminal that a battery feeds through the device, and what lies behind it.

    A device in a ring, or between two batteries, has two sides.
    """

    edge: Edge
    node: int
    behind: Served

    @property
    def item(self) -> str:
        """Return what a finding names."""
        return self.edge.item

    @property
    def rated_a(self) -> float | None:
        """Return the device's rating, None when not stated. [A]."""
        rated = self.edge.device.get("rated_a")
        return None if rated is None else float(rated)


def device_sides(
    graph: TerminalGraph, protection: ProtectionTable, potentials: list[Potential],
    posts: Mapping[int, str],
) -> tuple[DeviceSide, ...]:
    """Return the sides of every device in a conductor that is not the DC negative."""
    found = []
    for edge in graph.edges:
        if edge.role != "overcurrent" or _is_negative(edge, potentials):
            continue
        for node in sorted(protection.downstream.get(edge.index, ())):
            found.append(DeviceSide(edge, node, served(graph, edge, node, posts)))
    return tuple(found)


def _is_negative(edge: Edge, potentials: list[Potential]) -> bool:
    return {potentials[edge.a].side, potentials[edge.b].side} <= {"-"}
