"""What stays live with every switch off, on purpose: bilge pump, alarms, battery monitor."""

from __future__ import annotations

from app.new_boat.plan import CRITICAL_DROP, Plan

PUMP_FUSE_A = 10


def always_on(plan: Plan) -> None:
    """Draw the circuits of the battery bus, each with a fuse of its own."""
    pump = _load(plan, "bilge_pump", "Bilge pump", "bilge_pump", "bilge_pump_automatic",
                 maker_fuse_max_a=PUMP_FUSE_A, place="bilge")
    _feed(plan, pump, PUMP_FUSE_A, "engine", joint_above_water=True)
    alarm = _load(plan, "alarm", "High water alarm", "alarm", "water_alarm", own_battery=False)
    _feed(plan, alarm, 3, "cabin")
    if plan.answers.fuel == "petrol" and plan.answers.engines:
        sniffer = _load(plan, "gas_alarm", "Petrol vapour alarm", "alarm", "gas_alarm")
        _feed(plan, sniffer, 3, "cabin")
    _monitor(plan)


def _load(plan: Plan, kind: str, name: str, figure_name: str, role: str, **more: object) -> str:
    return plan.part(kind, name, ("charge", plan.column("always"), "load"), role=role,
                     current_a=plan.amperes(figure_name), stays_live=True, **more)


def _feed(plan: Plan, item: str, rated_a: float, run: str, **more: object) -> None:
    part = plan.parts[item]
    plan.branch(plan.stud(plan.named["battery bus"]), f"{item}.+", f"{item}.-", rated_a,
                plan.run_m(run), part.name, ("charge", plan.slots[item][1], "under"),
                current_a=part.parameters["current_a"], drop=CRITICAL_DROP)
    if more:
        last = f"W{len(plan.wires) - bool(plan.answers.negatives)}"
        plan.wires[last] = plan.wires[last].replaced(**more)


def _monitor(plan: Plan) -> None:
    item = plan.part("monitor", "Battery monitor", ("charge", plan.column("always"), "load"),
                     counts_current=True, needs_battery_side=True,
                     current_a=plan.amperes("monitor"))
    shunt = plan.named["shunt"]
    plan.branch(plan.stud(plan.named["battery bus"]), f"{item}.+", "", 3, plan.run_m("helm"),
                "Battery monitor", ("charge", plan.slots[item][1], "under"))
    if plan.answers.negatives:
        plan.wire(f"{item}.-", f"{shunt}.a", plan.size(3), plan.run_m("helm"), ("-",))
    plan.wire(f"{shunt}.sense", f"{item}.sense", plan.size(1), plan.run_m("helm"), ("signal",),
              purpose="sense")
