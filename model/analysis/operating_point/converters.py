"""Sources and converters as elements: alternators, arrays, wind, chargers, DC-DC, controllers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from model.analysis.operating_point.state import State
from model.diagram import Component
from model.graph import Edge, TerminalGraph

if TYPE_CHECKING:
    from model.analysis.operating_point.build import Built

# How stiffly a converter holds its volts, and its efficiency where none is stated: common
# practice, no source.
SUPPLY_OHM = 0.01
EFFICIENCY = 0.95
CHARGING_RATIO = 1.2  # 14.4 V of 12: absorption voltage, battery_chemistry.csv, CHG-MANUAL
WIND_RATED_MPS = 12.0  # common practice, no source: output grows with the cube up to this wind
NO_LIMIT = 1e9


def add_generator(
    graph: TerminalGraph, component: Component, state: State, built: Built
) -> None:
    """Add an alternator, array or wind generator that gives in this state."""
    p = component.parameters
    if component.kind == "alternator":
        set_v = p.get("set_v") or _assumed(
            built, component.id, "regulated voltage", CHARGING_RATIO * (p.get("nominal_v") or 12.0))
        most = p.get("rated_a")
        if not most:
            built.problem("cannot_tell", f"cannot tell: rated output of {component.id} missing",
                          component.id)
            return
        most = min(most * p.get("hot_fraction", 1.0), p.get("output_cap_a", NO_LIMIT))
        _supply(graph, built, component.id, "+", set_v, most)
    elif component.kind == "solar_array":
        volts, watts = array_point(p)
        if not volts or not watts:
            built.problem("cannot_tell", f"cannot tell: power and voltage of {component.id} "
                          "missing", component.id)
            return
        _supply(graph, built, component.id, "+", volts, watts * state.sun / volts)
    elif component.kind == "wind_generator":
        rated, volts = p.get("rated_a"), p.get("nominal_v")
        if not rated or not volts:
            built.problem("cannot_tell", f"cannot tell: rated output of {component.id} missing",
                          component.id)
            return
        share = 1.0 if state.wind_mps is None else min(1.0, (state.wind_mps / WIND_RATED_MPS) ** 3)
        _supply(graph, built, component.id, "+", volts * CHARGING_RATIO, rated * share)


def array_point(p: Any) -> tuple[float | None, float | None]:
    """Return volts and watts of an array at full sun. [V], [W].

    Without a stated voltage at full power, 0.8 of the open-circuit voltage (common practice, no
    source).
    """
    series, strings = p.get("series_count", 1), p.get("parallel_count", 1)
    panel_v = p.get("panel_vmp_v")
    if panel_v is None and p.get("panel_voc_v") is not None:
        panel_v = 0.8 * p["panel_voc_v"]
    watts = p.get("panel_w")
    return (None if panel_v is None else panel_v * series,
            None if watts is None else watts * series * strings)


def add_converter(graph: TerminalGraph, edge: Edge, state: State, built: Built) -> None:
    """Add a converter's DC output, fed from AC or from its DC input."""
    component = graph.diagram.components[edge.owner]
    if not graph.names[edge.b].endswith("+") or component.kind == "isolation_transformer":
        return
    p = component.parameters
    if graph.names[edge.a].endswith("L"):
        _from_ac(graph, component, edge, state, built)
    elif state.automatic.get(component.id, True):
        most = p.get("rated_output_a")
        set_v = _output_v(graph, component, edge, built)
        if set_v is None:
            return
        if most is None:
            built.problem("cannot_tell", f"cannot tell: rated output of {component.id} missing",
                          component.id)
        _converter(graph, component, edge, set_v, NO_LIMIT if most is None else most, built, state)


def _from_ac(
    graph: TerminalGraph, component: Component, edge: Edge, state: State, built: Built
) -> None:
    if component.id not in state.live_ac:
        return
    p = component.parameters
    most = p.get("charge_a") if component.kind == "inverter_charger" else p.get("rated_a")
    set_v = _output_v(graph, component, edge, built)
    if not most or set_v is None:
        built.problem("cannot_tell", f"cannot tell: output of {component.id} missing", component.id)
        return
    _supply(graph, built, component.id, graph.names[edge.b].partition(".")[2], set_v, most)


def _output_v(
    graph: TerminalGraph, component: Component, edge: Edge, built: Built
) -> float | None:
    p = component.parameters
    is_fixed = component.kind == "dc_dc_converter"
    stated = p.get("output_v" if is_fixed else "absorption_v")
    if stated:
        return float(stated)
    nominal = built.network.start_v[edge.b] or p.get("output_v") or p.get("input_v")
    if is_fixed or not nominal:
        built.problem("cannot_tell", f"cannot tell: output voltage of {component.id} missing",
                      component.id)
        return None
    blocks = max(1, round(nominal / 12.0))
    return _assumed(built, component.id, "absorption voltage", 12.0 * blocks * CHARGING_RATIO)


def _assumed(built: Built, item: str, what: str, value: float) -> float:
    built.problem("assumed", f"{item}: {what} taken as {value:.4g} V", item)
    return value


def _supply(
    graph: TerminalGraph, built: Built, item: str, terminal: str, set_v: float, most_a: float
) -> None:
    s = built.network.supplies
    plus = graph.number[f"{item}.{terminal}"]
    minus = graph.number[f"{item}.-"]
    built.parts.setdefault(item, ("supplies", len(s.plus)))
    for name, value in (("minus", minus), ("plus", plus), ("sense_minus", minus),
                        ("sense_plus", plus)):
        getattr(s, name).append(value)
    s.set_v.append(set_v)
    s.g_s.append(1 / SUPPLY_OHM)
    s.most_a.append(most_a)
    s.most_w.append(NO_LIMIT)


def _converter(
    graph: TerminalGraph, component: Component, edge: Edge, set_v: float, most_a: float,
    built: Built, state: State,
) -> None:
    c = built.network.converters
    minus = graph.number[f"{component.id}.-"]
    out_minus = graph.number.get(f"{component.id}.out-", minus)
    built.parts[component.id] = ("converters", len(c.in_plus))
    c.in_plus.append(edge.a)
    c.in_minus.append(minus)
    c.out_plus.append(edge.b)
    c.out_minus.append(out_minus)
    c.set_v.append(set_v)
    c.g_s.append(1 / SUPPLY_OHM)
    c.most_a.append(most_a)
    c.input_most_a.append(input_limit_a(graph, component, state))
    efficiency = component.parameters.get("efficiency", EFFICIENCY)
    if not efficiency:
        built.problem("cannot_tell", f"cannot tell: efficiency of {component.id} is zero",
                      component.id)
    c.efficiency.append(efficiency or EFFICIENCY)
    start = built.network.start_v
    nominal = component.parameters.get("input_v") or abs(start[edge.a] - start[minus]) or 12.0
    c.floor_v.append(component.parameters.get("input_min_v") or 0.5 * nominal)


def input_limit_a(graph: TerminalGraph, component: Component, state: State) -> float:
    """Return what a converter's source can give at most: an array's current by the sun. [A].

    A little less than all of it, so that the array holds its voltage.
    """
    limit = component.parameters.get("current_limit_a", NO_LIMIT)
    if component.kind not in ("solar_controller", "wind_controller"):
        return float(limit)
    from model.analysis.reach import reach, stiff_passes

    passes = stiff_passes(graph, state.positions)
    given = 0.0
    inputs = {n for n in graph.nodes_of(component.id)
              if graph.names[n].endswith(("pv+", "in+"))}
    for source in state.sources:
        other = graph.diagram.components[source]
        if other.kind not in ("solar_array", "wind_generator"):
            continue
        if reach(graph, [graph.number[f"{source}.+"]], passes) & inputs:
            given += _source_a(other.parameters, other.kind, state)
    return min(float(limit), 0.999 * given)


def _source_a(p: Any, kind: str, state: State) -> float:
    if kind == "wind_generator":
        share = 1.0 if state.wind_mps is None else min(1.0, (state.wind_mps / WIND_RATED_MPS) ** 3)
        return float(p.get("rated_a", 0.0)) * share
    volts, watts = array_point(p)
    return 0.0 if not volts or watts is None else watts * state.sun / volts
