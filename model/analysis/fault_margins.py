"""Margins of overcurrent devices in a fault: can each break its current, and will it trip.

Each device is judged by the current that goes through it, not by that of the whole fault: with two
banks side by side each fuse carries its own bank's share.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from model.graph import Edge, TerminalGraph

TRIPS_FROM = 3.0  # times its rating a device trips soon: common practice, no source
ON_THE_WAY = 0.01  # of the fault's current


@dataclass(frozen=True, slots=True)
class Margin:
    """A device in the way of a fault: largest and smallest current, and its ratings. [A].

    `breaks` is None when its interrupting rating is not stated or stated for fewer volts;
    `will_trip` is None when its rating is not stated.
    """

    device: str
    i_max_a: float
    i_min_a: float
    interrupt_a: float | None
    breaks: bool | None
    rated_a: float | None
    will_trip: bool | None


def fault_margins(
    graph: TerminalGraph, strong_a: Mapping[int, float], weak_a: Mapping[int, float],
    fault_a: float, system_v: float,
) -> tuple[Margin, ...]:
    """Return the margin of each overcurrent device that carries part of a fault.

    Currents through edges by their numbers: in the strong case and in the weak one. Volts
    are the nominal ones where the fault is. [A], [V].
    """
    found: dict[str, Margin] = {}
    for edge in graph.edges:
        if edge.role != "overcurrent" or edge.item in found:
            continue
        most = abs(strong_a.get(edge.index, 0.0))
        if most > ON_THE_WAY * fault_a:
            found[edge.item] = _margin(edge, most, abs(weak_a.get(edge.index, 0.0)), system_v)
    return tuple(found.values())


def _margin(edge: Edge, most_a: float, least_a: float, system_v: float) -> Margin:
    interrupt_a, rated_a = edge.device.get("interrupt_a"), edge.device.get("rated_a")
    at_v = edge.device.get("interrupt_at_v")
    is_told = interrupt_a is not None and (at_v is None or at_v >= system_v)
    return Margin(
        edge.item, most_a, least_a, interrupt_a,
        interrupt_a >= most_a if is_told and interrupt_a is not None else None,
        rated_a, None if rated_a is None else least_a >= TRIPS_FROM * rated_a,
    )
