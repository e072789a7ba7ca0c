"""Loads as elements: one of current, power or resistance, as stated."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.analysis.operating_point.state import State
from model.graph import Edge, TerminalGraph
from model.kinds import kind_of

if TYPE_CHECKING:
    from model.analysis.operating_point.build import Built

# A load gives up at half its nominal voltage; below, it draws in proportion: common practice, no
# source.
FLOOR = 0.5
INTERMITTENT = frozenset({"windlass", "thruster", "winch", "starter"})


def add_load(graph: TerminalGraph, edge: Edge, state: State, built: Built) -> None:
    """Add a load that runs in this state."""
    component = graph.diagram.components[edge.owner]
    p = component.parameters
    volts = p.get("nominal_v") or _nominal(built, edge)
    override = state.load_a.get(edge.owner)
    if override is not None:
        _current(built, edge, override, volts)
        return
    if not _runs(graph, edge.owner, state):
        return
    if component.kind in ("inverter", "inverter_charger"):
        if p.get("idle_a"):
            _current(built, edge, p["idle_a"], volts)
        return
    draws = p.get("cranking_a") if component.kind == "starter" else p.get("current_a")
    if draws is not None:
        _current(built, edge, draws, volts)
    elif p.get("power_w") is not None:
        _power(built, edge, p["power_w"], volts)
    elif p.get("resistance_ohm"):
        _resistance(built, edge, p["resistance_ohm"])
    elif component.kind not in ("monitor", "box"):
        built.problem("cannot_tell", f"cannot tell: current of {edge.owner} missing", edge.owner)


def _runs(graph: TerminalGraph, item: str, state: State) -> bool:
    """Continuous loads run; short-time ones only when the duty case says so."""
    component = graph.diagram.components[item]
    role = component.parameters.get("role", component.kind)
    short = component.parameters.get("intermittent") is True or role in INTERMITTENT or (
        component.kind in INTERMITTENT)
    if short:
        return item in state.short_time_loads
    return kind_of(component).role in ("load", "converter")


def _nominal(built: Built, edge: Edge) -> float:
    start = built.network.start_v
    return abs(start[edge.a] - start[edge.b]) or 12.0


def _current(built: Built, edge: Edge, current_a: float, volts: float) -> None:
    loads = built.network.current_loads
    built.loads[edge.owner] = ("current_loads", len(loads.a))
    loads.a.append(edge.a)
    loads.b.append(edge.b)
    loads.current_a.append(current_a)
    loads.floor_v.append(FLOOR * volts)


def _power(built: Built, edge: Edge, power_w: float, volts: float) -> None:
    loads = built.network.power_loads
    built.loads[edge.owner] = ("power_loads", len(loads.a))
    loads.a.append(edge.a)
    loads.b.append(edge.b)
    loads.power_w.append(power_w)
    loads.floor_v.append(FLOOR * volts)


def _resistance(built: Built, edge: Edge, ohm: float) -> None:
    r = built.network.resistors
    built.loads[edge.owner] = ("resistors", len(r.a))
    r.a.append(edge.a)
    r.b.append(edge.b)
    r.g_s.append(1 / max(ohm, 1e-5))
