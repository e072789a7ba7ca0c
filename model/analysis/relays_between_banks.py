"""Relays that volts work, between banks: the batteries on either side and what charges them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from model.analysis.battery_model import BLOCK_V
from model.analysis.charging import Outlet, charged_in, outlets
from model.analysis.joinable import post_v
from model.diagram import Component
from model.graph import TerminalGraph


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a relay: its terminal, the batteries there and the outputs that charge them."""

    node: int
    batteries: frozenset[str]
    charging: tuple[Outlet, ...]


@dataclass(frozen=True, slots=True)
class RelayBetween:
    """A relay and its two sides."""

    relay: Component
    sides: tuple[Side, Side]


def relays_between(graph: TerminalGraph) -> tuple[RelayBetween, ...]:
    """Return the voltage-sensing relays that have batteries on both sides, as switches stand."""
    return graph.once("relays between banks", lambda: tuple(_relays(graph)))


def _relays(graph: TerminalGraph) -> Iterator[RelayBetween]:
    for part in graph.diagram.components.values():
        if part.kind == "voltage_sensing_relay":
            a, b = (_side(graph, graph.number[f"{part.id}.{name}"]) for name in ("a+", "b+"))
            if a.batteries and b.batteries and not a.batteries & b.batteries:
                yield RelayBetween(part, (a, b))


def side_v(graph: TerminalGraph, side: Side) -> float:
    """Return the nominal volts of a side; 12 V are taken where they are not stated. [V]."""
    return max(post_v(graph, item) or BLOCK_V for item in side.batteries)


def _side(graph: TerminalGraph, node: int) -> Side:
    batteries = charged_in(graph, node, {}, over_relays=False)
    charging = tuple(outlet for outlet in outlets(graph) if batteries & charged_in(
        graph, outlet.node, {}, over_relays=False))
    return Side(node, batteries, charging)
