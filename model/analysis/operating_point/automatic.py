"""What the volts decide: voltage-sensing relays, and DC-DC chargers with cut-in and cut-out."""

from __future__ import annotations

from typing import Any

from model.analysis.operating_point.returns import draws_returns, is_bare
from model.analysis.operating_point.state import State
from model.diagram import Component, Diagram
from model.graph import TerminalGraph

# Common practice, no source: a follower closes near 13.3 V and opens near 12.8 V of 12 V.
CLOSE_RATIO, OPEN_RATIO = 13.3 / 12, 12.8 / 12


class Automatic:
    """The relays and chargers of a diagram, on or off; `follow` lets them act on new volts."""

    def __init__(self, graph: TerminalGraph, state: State) -> None:
        self._graph = graph
        at_first = graph.once("worked by volts", lambda: _at_first(graph.diagram))
        self.on = {item: on for item, on in at_first.items() if on or item not in state.positions}

    def follow(self, volts: Any) -> set[str]:
        """Let each act on the volts it senses; return what changed."""
        changed = set()
        for item, on in self.on.items():
            if _lacks_minus(self._graph, item):
                continue
            low, high = thresholds_v(self._graph.diagram.components[item])
            sensed = self._sensed(item, volts)
            after = sensed > low if on else sensed >= high
            if after != on:
                self.on[item] = after
                changed.add(item)
        return changed

    def _sensed(self, item: str, volts: Any) -> float:
        part = self._graph.diagram.components[item]
        minus = self._graph.number.get(f"{item}.-")
        base = float(volts[minus]) if minus is not None else 0.0
        names: tuple[str, ...] = ("in+",)
        if part.kind == "voltage_sensing_relay":
            names = {"a": ("a+",), "b": ("b+",)}.get(
                part.parameters.get("senses", "both"), ("a+", "b+"))
        return max(float(volts[self._graph.number[f"{item}.{name}"]]) - base for name in names)


def _at_first(diagram: Diagram) -> dict[str, bool]:
    """Return what volts work, on or off before anything is solved: relays are open."""
    return {part.id: part.kind != "voltage_sensing_relay" for part in diagram.components.values()
            if part.kind == "voltage_sensing_relay"
            or (part.kind in ("dc_dc_charger", "dc_dc_converter") and has_thresholds(part))}


def _lacks_minus(graph: TerminalGraph, item: str) -> bool:
    """Say whether the negative of a relay is missing, without which it senses nothing."""
    minus = graph.number.get(f"{item}.-")
    return minus is not None and draws_returns(graph.diagram) and is_bare(graph, minus)


def has_thresholds(part: Component) -> bool:
    """Say whether the volts are stated at which a part starts or stops."""
    return any(name in part.parameters for name in ("start_above_v", "stop_below_v", "input_min_v"))


def thresholds_v(part: Component) -> tuple[float, float]:
    """Return below which volts a relay opens or a charger stops, and from which on it closes or
    starts. [V]."""
    p = part.parameters
    if part.kind == "voltage_sensing_relay":
        return p.get("open_below_v", OPEN_RATIO * 12), p.get("close_above_v", CLOSE_RATIO * 12)
    low = max(p.get("stop_below_v", 0.0), p.get("input_min_v", 0.0))
    return low, max(p.get("start_above_v", low), low)
