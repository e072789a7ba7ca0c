"""The panel of the small circuits: a breaker and a sized cable for each."""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from app.new_boat.answers import Answers
from app.new_boat.plan import CRITICAL_DROP, FEEDER_DROP, ORDINARY_DROP, Plan
from app.new_boat.sizing import breaker_a

WAY = {"device": "breaker", "rated_dc_v": 65, "interrupt_a": 7500, "reset": "manual_trip_free",
       "switch_duty": True, "poles": "+"}
FEEDER_A = 100.0


class Circuit(Struct, frozen=True):
    """One circuit of the panel: its load, its watts and its run by their names in the table."""

    label: str
    kind: str
    watts: str
    run: str
    is_critical: bool = False
    role: str = ""
    intermittent: bool = False


def circuits(answers: Answers) -> tuple[Circuit, ...]:
    """Return the circuits of a boat."""
    engine = bool(answers.engines)
    petrol = engine and answers.fuel == "petrol"
    found = [
        Circuit("Navigation lights", "navigation_light", "navigation_light", "ends", True),
        Circuit("Anchor light", "navigation_light", "anchor_light", "mast", True),
        *([Circuit("Steaming light", "navigation_light", "anchor_light", "mast", True)]
          if engine else []),
        Circuit("Cabin lights forward", "lamp", "cabin_light", "cabin"),
        Circuit("Cabin lights aft", "lamp", "cabin_light", "cabin"),
        Circuit("Plotter", "instrument", "plotter", "helm", True),
        Circuit("Log and sounder", "instrument", "instruments", "helm", True),
        Circuit("Radio", "radio", "radio", "helm", True),
        Circuit("Autopilot", "autopilot", "autopilot", "helm", True),
        Circuit("Water pump", "pump", "water_pump", "cabin", intermittent=True),
        Circuit("USB sockets", "socket", "sockets", "cabin"),
        *([Circuit("Refrigerator", "refrigerator", "fridge", "cabin")] if answers.fridge else []),
        *([Circuit("Heater", "heater", "heater", "cabin")] if answers.heater else []),
        *([Circuit("Bilge blower", "motor", "blower", "engine", True, "blower")]
          if petrol else []),
    ]
    return tuple(found)


def panel(plan: Plan) -> None:
    """Draw the panel, its feeder with a fuse at the house bus, and a load in each row."""
    rows = circuits(plan.answers)
    ways: list[dict[str, Any]] = [{"id": plan.number("F"), "label": row.label,
             "rated_a": breaker_a(plan.amperes(row.watts)), **WAY} for row in rows]
    ways.append({"id": plan.number("F"), "label": "Spare", "rated_a": 10.0, "spare": True,
                 **WAY})
    item = plan.part("panel", "Main panel", ("panel", 0, "panel"), bus_rated_a=150,
                     negative_bar=plan.answers.negatives, enclosed=True, ways=tuple(ways),
                     place="saloon")
    plan.named["panel"] = item
    total_a = sum(plan.amperes(row.watts) for row in rows)
    plan.branch(plan.stud(plan.named["house bus"]), f"{item}.in", f"{item}.-", FEEDER_A,
                plan.run_m("panel"), "Main panel", ("panel", 0, "under"), current_a=total_a,
                drop=FEEDER_DROP)
    for way, row in zip(ways, rows, strict=False):
        _row(plan, f"{item}.{way['id']}", row, way["rated_a"])


def _row(plan: Plan, way: str, row: Circuit, rated_a: float) -> None:
    current_a = plan.amperes(row.watts)
    fields: dict[str, Any] = {"current_a": current_a}
    if row.role:
        fields["role"] = row.role
    if row.intermittent:
        fields["intermittent"] = True
    load = plan.part(row.kind, row.label, row_of=way, **fields)
    length_m = plan.run_m(row.run)
    drop = CRITICAL_DROP if row.is_critical else ORDINARY_DROP
    size = plan.size(rated_a, current_a, length_m, drop)
    plan.wire(way, f"{load}.+", size, length_m, plan.pair)
