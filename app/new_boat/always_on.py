"""What stays live with every switch off, on purpose: bilge pump, alarms, battery monitor.

They hang on a block of fuses at the battery bus, a fuse for each.
"""

from __future__ import annotations

from typing import Any

from msgspec import Struct

from app.new_boat.answers import Answers
from app.new_boat.plan import CRITICAL_DROP, Plan
from app.new_boat.sizing import CARTRIDGE

PUMP_FUSE_A, ALARM_FUSE_A = 10.0, 3.0
WAY = {"device": "fuse", "rated_dc_v": CARTRIDGE["rated_dc_v"], "class": CARTRIDGE["class"],
       "interrupt_a": CARTRIDGE["interrupt_a"], "poles": "+"}


class AlwaysOn(Struct, frozen=True):
    """One circuit that stays live: its load, the watts and the run by their names in the table."""

    label: str
    kind: str
    watts: str
    run: str
    fuse_a: float
    fields: dict[str, Any]


def circuits(answers: Answers) -> tuple[AlwaysOn, ...]:
    """Return what stays live on a boat."""
    sniffer = AlwaysOn("Petrol vapour alarm", "gas_alarm", "alarm", "cabin", ALARM_FUSE_A,
                       {"role": "gas_alarm", "stays_live": True})
    return (
        AlwaysOn("Bilge pump", "bilge_pump", "bilge_pump", "engine", PUMP_FUSE_A,
                 {"role": "bilge_pump_automatic", "stays_live": True, "place": "bilge",
                  "maker_fuse_max_a": PUMP_FUSE_A}),
        AlwaysOn("High water alarm", "alarm", "alarm", "cabin", ALARM_FUSE_A,
                 {"role": "water_alarm", "stays_live": True, "own_battery": False}),
        *((sniffer,) if answers.engines and answers.fuel == "petrol" else ()),
        AlwaysOn("Battery monitor", "monitor", "monitor", "helm", ALARM_FUSE_A,
                 {"counts_current": True, "needs_battery_side": True}),
    )


def always_on(plan: Plan) -> None:
    """Draw the block of fuses and what hangs on it."""
    rows = circuits(plan.answers)
    ways = tuple({"id": plan.number("F"), "label": row.label, "rated_a": row.fuse_a, **WAY}
                 for row in rows)
    block = plan.part("fuse_block", "Always on", ("charge", 0, "block"), ways=ways,
                      bus_rated_a=300, negative_bar=plan.answers.negatives, enclosed=True)
    plan.named["block"] = block
    size = plan.bus_size
    plan.wire(plan.stud(plan.named["battery bus"]), f"{block}.in", size, 0.3)
    plan.minus(f"{block}.-", size, 1.0)
    for way, row in zip(ways, rows, strict=True):
        _row(plan, f"{block}.{way['id']}", row)


def _row(plan: Plan, way: str, row: AlwaysOn) -> None:
    current_a = plan.amperes(row.watts)
    load = plan.part(row.kind, row.label, row_of=way, current_a=current_a,
                     **row.fields)
    length_m = plan.run_m(row.run)
    size = plan.size(row.fuse_a, current_a, length_m, CRITICAL_DROP)
    wet = {"joint_above_water": True} if row.kind == "bilge_pump" else {}
    if row.kind != "monitor":
        plan.wire(way, f"{load}.+", size, length_m, plan.pair, **wet)
        return
    plan.wire(way, f"{load}.+", size, length_m)
    shunt = plan.named["shunt"]
    if plan.answers.negatives:
        plan.wire(f"{load}.-", f"{shunt}.a", size, length_m, ("-",))
    plan.wire(f"{shunt}.sense", f"{load}.sense", plan.size(1), length_m, ("signal",),
              purpose="sense")
