"""The heavy loads: windlass, bow thruster and inverter, each with a thick cable of its own."""

from __future__ import annotations

from app.new_boat.figures import charging_fields, figure, volts
from app.new_boat.plan import Plan, rating_a
from app.new_boat.ratings import inverter_a, inverter_w, motor_a

BREAKER = {"rated_dc_v": 60, "interrupt_a": 20000, "reset": "manual_trip_free",
           "switch_duty": True, "within_reach": True}
MOTOR_DROP, BOW_DROP = 0.07, 0.02  # of the volts, the way to the motor
MOTOR_RUN_S = {"windlass": 120, "thruster": 120}


def motor(plan: Plan, kind: str, name: str) -> None:
    """Draw a windlass or thruster behind a breaker that stops it."""
    current_a = motor_a(kind, plan.answers)
    rated_a = rating_a(current_a, 1.15)
    zone = "bow" if plan.answers.bow_bank else "heavy"
    column = plan.column(zone)
    breaker = plan.part("breaker", name, (zone, column, "fuse"), rated_a=rated_a, **BREAKER)
    item = plan.part(kind, name, (zone, column, "device"), current_a=current_a, place="bow",
                     maker_fuse_min_a=rating_a(current_a, 1.0),
                     maker_fuse_max_a=rating_a(current_a, 1.5), intermittent=True,
                     run_s=MOTOR_RUN_S[kind], thermal_cutout=True, own_switch=True,
                     stop_within_reach=breaker)
    length_m = 2.0 if plan.answers.bow_bank else plan.run_m("bow")
    size = plan.size(rated_a, current_a, length_m, BOW_DROP if zone == "bow" else MOTOR_DROP)
    plan.wire(plan.stud(plan.named["heavy bus"]), f"{breaker}.a", size)
    plan.wire(f"{breaker}.b", f"{item}.+", size, length_m)
    plan.minus(f"{item}.-", size, length_m, plan.named["motor negative"])


def inverter(plan: Plan) -> None:
    """Draw an inverter with a socket of its own behind a residual-current breaker."""
    answers = plan.answers
    watts, out_v = inverter_w(answers), 120 if answers.shore_v == 120 else 230
    column = plan.column("heavy")
    item = plan.part("inverter", "Inverter", ("heavy", column, "device"), rated_w=watts,
                     **inverter_fields(plan, out_v), output_neutral="bonded",
                     warning_text=f"Second source of {out_v} V")
    draws_a = inverter_a(watts, answers.house_v)
    plan.branch(plan.stud(plan.named["house bus"]), f"{item}.+", f"{item}.-", rating_a(draws_a),
                1.5, "Inverter", ("heavy", column, "fuse"), current_a=draws_a, drop=0.02)
    trip = plan.part("residual_current_breaker", "Inverter sockets", ("heavy", column, "stop"),
                     **trip_fields(10, out_v))
    socket = plan.part("ac_socket", "Inverter sockets", ("heavy", column, "source"),
                       rated_w=watts, double_insulated=False)
    plan.cable(f"{item}.ac", f"{trip}.a", 10, 0.4)
    plan.cable(f"{trip}.b", f"{socket}.ac", 10, plan.run_m("cabin"))
    joined = "" if answers.negatives else plan.named.get("protective earth", "")
    plan.earth(f"{trip}.b", joined or plan.ground())


def inverter_fields(plan: Plan, out_v: int) -> dict[str, object]:
    """Return what an inverter and an inverter-charger have in common."""
    return {"input_v": plan.house_v, "output_v": out_v, "efficiency": figure("inverter_efficiency"),
            "min_dc_v": plan.house_v * figure("inverter_lowest_v"), "for_fixed_wiring": True,
            "soft_start": True, "case_terminal": False}


def trip_fields(rated_a: float, volts: float) -> dict[str, object]:
    """Return the fields of a residual-current breaker."""
    return {"rated_a": rated_a, "rated_ac_v": volts, "poles_opened": "L_and_N",
            "residual_ma": 30, "interrupt_a": 6000}


def feed_bank(plan: Plan, bank: str, watts: str, name: str, zone: str, run: str) -> None:
    """Draw the converter that charges a lead bank from the house, with a fuse at both ends."""
    house_v = plan.house_v
    out_a = float(int(figure(f"{watts}_w") / house_v))
    in_a = out_a / figure("converter_efficiency")
    item = plan.part("dc_dc_charger", name, (zone, 1, "device"), input_v=house_v,
                     output_v=house_v, rated_output_a=out_a, isolated=False, run_signal="none",
                     start_above_v=volts("feed_converter_starts", house_v),
                     stop_below_v=volts("feed_converter_stops", house_v),
                     efficiency=figure("converter_efficiency"), sense="own_terminal",
                     **charging_fields("agm", house_v))
    length_m = plan.run_m(run)
    bar = plan.named.get(f"{zone} negative", "")
    slot = (zone, 1, "feed") if zone == "reserve" else ("charge", plan.column("charge"), "fuse")
    fuse = plan.branch(
        plan.stud(plan.named["battery bus"]), f"{item}.in+", f"{item}.-", rating_a(in_a),
        length_m, name, slot, current_a=in_a, drop=0.03, minus_bar=bar)
    if bar:
        plan.minus(plan.stud(bar), plan.size_behind(fuse), length_m)
    plan.branch(f"{bank}.+", f"{item}.out+", "", rating_a(in_a), 0.5, name, (zone, 1, "post"),
                current_a=out_a, drop=0.02)

