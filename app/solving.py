"""What the commands solve, fault and sizes print: figures by id, as JSON and as text."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from model.analysis.battery_model import available_ah
from model.analysis.charging_volts import charging_volts
from model.analysis.copper import copper_mm2
from model.analysis.design_current import design_currents
from model.analysis.fault_current import fault_current
from model.analysis.fault_margins import Margin
from model.analysis.operating_point.answer import PartState
from model.analysis.operating_point.build import CHARGED
from model.analysis.withstand import conductor_withstand_s
from model.diagram import Conductor, Diagram
from model.errors import ModelError, NotDrawn
from model.survey import Survey
from model.table_files import table_rows
from rules.allowance import largest_device_a
from rules.profiles import profile_of

LEAST_A = 0.01  # a battery that gives less than this is as good as at rest
_FORMULA = {"us": "K=10.75", "iso": "0.0164"}


def solve_json(
    diagram: Diagram, mode: str | None, positions: Mapping[str, str], absent: Iterable[str],
    load_a: Mapping[str, float],
) -> dict[str, Any]:
    """Return the operating point: volts, amperes, drops, states, problems."""
    survey = Survey(diagram)
    _check_ids(diagram, [*absent, *load_a])
    _check_loads(survey, load_a)
    live = survey.live(positions, mode_id=mode)
    state = survey.state(mode, positions, absent=absent, load_a=load_a)
    point = survey.operating_point(state)
    terminals = {
        name: {"v": round(volts, 4), "live_from": sorted(live.terminals.get(name, ()))}
        for name, volts in point.terminals.items()}
    terminals |= {port: terminals[name] for port, name in survey.graph.terminal_of_port.items()}
    return {
        "mode": mode,
        "settled": point.settled,
        "terminals": terminals,
        "conductors": {
            wire: {"a": round(current, 4), "drop_v": round(point.drops_v[wire], 5)}
            for wire, current in point.conductors.items()},
        "components": {
            item: {"a": round(part.current_a, 4), "w": round(part.power_w, 3), "state": part.state,
                   **_lasts(diagram.components[item].parameters, part,
                            state.charge_of(item, CHARGED))}
            for item, part in point.parts.items()},
        "problems": [{"kind": p.kind, "ids": list(p.ids), "message": p.sentence}
                     for p in point.problems],
    }


def _lasts(parameters: Mapping[str, Any], part: PartState, charge: float) -> dict[str, float]:
    """Return how long a discharging battery lasts at this current, by Peukert's law. [h]."""
    if part.state != "discharging" or part.current_a < LEAST_A:
        return {}
    available = available_ah(parameters, part.current_a).value
    return {} if available is None else {"lasts_h": round(available * charge / part.current_a, 2)}


def _check_ids(diagram: Diagram, ids: Iterable[str]) -> None:
    for item in ids:
        if item not in diagram.components and item not in diagram.conductors:
            raise NotDrawn("part or conductor", item)


def _check_loads(survey: Survey, load_a: Mapping[str, float]) -> None:
    for item, current_a in load_a.items():
        if not any(edge.role == "load" for edge in survey.graph.edges_of.get(item, ())):
            raise ModelError(f"--load {item}: {item} is not a load.", (item,))
        if current_a < 0:
            raise ModelError(f"--load {item}: a load draws 0 A or more.", (item,))


def solve_text(answer: Mapping[str, Any]) -> str:
    """Return an operating point as lines."""
    lines = ["Parts"]
    for item, part in answer["components"].items():
        lasts = f", lasts {part['lasts_h']:.3g} h" if "lasts_h" in part else ""
        lines.append(f"  {item:8} {part['a']:9.2f} A {part['w']:10.1f} W  {part['state']}{lasts}")
    lines.append("Conductors")
    for wire, entry in answer["conductors"].items():
        lines.append(f"  {wire:8} {entry['a']:9.2f} A {entry['drop_v']:9.3f} V")
    lines += ["Problems", *(f"  {p['message']}" for p in answer["problems"])]
    return "\n".join(lines)


def fault_json(diagram: Diagram, at: str, back: str | None) -> dict[str, Any]:
    """Return the fault currents at a terminal."""
    survey = Survey(diagram)
    ports = survey.graph.terminal_of_port
    for name in (at, back):
        if name is not None and name not in survey.graph.number and name not in ports:
            raise NotDrawn("terminal", name)
    found = fault_current(
        survey, ports.get(at, at), None if back is None else ports.get(back, back))
    return {
        "at": at, "i_max_a": round(found.i_max_a, 2), "i_min_a": round(found.i_min_a, 2),
        "through": {wire: round(a, 2) for wire, a in found.through.items()},
        "withstand_s": _withstands(diagram, found.through),
        "devices": [_margin(device) for device in found.devices],
        "assumed": list(found.assumed),
    }


def charging_json(diagram: Diagram, mode: str | None) -> dict[str, Any]:
    """Return, for each bank, the volts a nearly full one gets, what it needs, what takes them."""
    return {"mode": mode, "banks": {
        found.bank: {
            "v": round(found.volts, 3),
            "needed_v": None if found.needed_v is None else round(found.needed_v, 3),
            "short_v": round(found.short_v, 3), "sources": list(found.sources),
            "takes": {item: round(volts, 3) for item, volts in found.takes},
        }
        for found in charging_volts(Survey(diagram), mode)
    }}


def _withstands(diagram: Diagram, through: Mapping[str, float]) -> dict[str, float | None]:
    """Return how long each conductor bears the largest current; None when it cannot be told."""
    times = {wire: conductor_withstand_s(diagram.conductors[wire], current_a)
             for wire, current_a in through.items()}
    return {wire: None if time is None else round(time, 3) for wire, time in times.items()}


def _margin(device: Margin) -> dict[str, Any]:
    return {
        "id": device.device,
        "i_max_a": round(device.i_max_a, 2), "interrupt_a": device.interrupt_a,
        "breaks": device.breaks,
        "i_min_a": round(device.i_min_a, 2), "rated_a": device.rated_a,
        "will_trip": device.will_trip,
    }


def sizes_json(diagram: Diagram, profile_name: str | None = None) -> dict[str, Any]:
    """Return, for each conductor, design current, ampacity, drops and the protection window."""
    survey = Survey(diagram)
    profile = profile_of(diagram.boat, profile_name)
    duty = design_currents(survey)
    rows = {}
    for wire in diagram.conductors.values():
        design = duty.conductors.get(wire.id)
        if design is None:
            continue
        ampacity = survey.ampacity(wire, profile.id)
        most = largest_device_a(ampacity.value_a, profile) if ampacity.value_a else None
        rows[wire.id] = {
            "design_a": round(design.current_a, 3), "case": design.case,
            "ampacity_a": ampacity.value_a, "ampacity_missing": list(ampacity.missing),
            "drop_v": round(design.drop_v, 4),
            "drop_formula_v": _formula_drop_v(wire, design.current_a, profile.id),
            "device_from_a": round(design.current_a, 3), "device_to_a": most,
        }
    return {
        "profile": profile.id, "cases": list(duty.cases), "conductors": rows,
        "loads": {item: {"v": round(w.volts, 3), "case": w.case} for item, w in duty.loads.items()},
        "problems": [{"kind": p.kind, "ids": list(p.ids), "message": p.sentence}
                     for p in duty.problems],
    }


def _formula_drop_v(wire: Conductor, current_a: float, rule_set: str) -> float | None:
    """Return the drop one way by the rule set's own constant, rho I L / A. [V]."""
    area = copper_mm2(wire)
    if area is None or wire.length_m is None:
        return None
    row = next(r for r in table_rows("voltage_drop_constants")
               if r["name"].startswith(_FORMULA[rule_set]))
    rho = float(row["rho_ohm_mm2_per_m"])
    return round(rho * current_a * wire.length_m / area, 4)


def sizes_text(answer: Mapping[str, Any]) -> str:
    """Return the sizes as lines."""
    head = f"{'':8} {'design':>9} {'carries':>9} {'drop':>8} {'formula':>8} {'device to':>9}  case"
    lines = [head]
    for wire, row in answer["conductors"].items():
        carries = "?" if row["ampacity_a"] is None else f"{row['ampacity_a']:.3g} A"
        formula = "?" if row["drop_formula_v"] is None else f"{row['drop_formula_v']:.3f} V"
        most = "?" if row["device_to_a"] is None else f"{row['device_to_a']:g} A"
        lines.append(f"{wire:8} {row['design_a']:7.1f} A {carries:>9} {row['drop_v']:6.3f} V "
                     f"{formula:>8} {most:>9}  {row['case']}")
    return "\n".join([*lines, *(p["message"] for p in answer["problems"])])
