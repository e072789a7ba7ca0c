"""Shore power: inlet, main breaker with leakage trip, earth, panel, and what charges with it."""

from __future__ import annotations

from typing import Any

from app.new_boat.figures import charging_fields, figure
from app.new_boat.heavy import BREAKER, inverter_fields, trip_fields
from app.new_boat.plan import Plan, rating_a
from app.new_boat.ratings import charging_a, inverter_a, inverter_w

AC_WAY = {"device": "breaker", "poles": "both", "residual_ma": 0}


def shore(plan: Plan) -> None:
    """Draw shore power from the inlet to sockets and charger."""
    volts = plan.answers.shore_v
    rated_a = figure(f"shore_a_{volts}v")
    # An inverter-charger stands over its own lead from the bank, a charger over the battery bus.
    has_charger = plan.answers.shore_unit == "charger"
    zone, column = ("charge", plan.column("charge")) if has_charger else ("store", 1)
    inlet = plan.part("shore_inlet", "Shore inlet", (zone, column, "source"), place="deck",
                      rated_a=rated_a, nominal_v=volts, poles="L_N_E")
    main = plan.part("residual_current_breaker", "Shore main", (zone, column, "stop"),
                     **trip_fields(rated_a, volts))
    lamp = plan.part("polarity_indicator", "Polarity", (zone, column, "indicator"),
                     audible=False)
    plan.cable(f"{inlet}.ac", f"{main}.a", rated_a, 0.4)
    plan.cable(f"{main}.b", f"{lamp}.ac", rated_a, 0.3)
    isolator = plan.part("galvanic_isolator", "Galvanic isolator", (zone, column, "earth"),
                         rated_a=rated_a, fail_safe=True)
    plan.named["protective earth"] = f"{isolator}.a"
    plan.earth(f"{main}.b", f"{isolator}.a")
    plan.earth(f"{isolator}.b", plan.ground())
    if has_charger:
        _charger(plan, column, main, volts, rated_a)
    else:
        _inverter_charger(plan, main, volts, rated_a)


def _charger(plan: Plan, column: int, main: str, volts: int, rated_a: float) -> None:
    charge_a = charging_a(plan.answers)["shore"]
    item = plan.part("shore_charger", "Shore charger", ("charge", column, "device"),
                     rated_a=charge_a, output_v=plan.house_v, output_count=1,
                     sense="own_terminal", temperature_sensor=True, double_insulated=False,
                     case_terminal=False,
                     **charging_fields(plan.answers.chemistry, plan.house_v))
    plan.branch(plan.stud(plan.named["battery bus"]), f"{item}.1+", f"{item}.-",
                rating_a(charge_a), 1.5, "Shore charger", ("charge", column, "fuse"),
                current_a=charge_a, drop=0.01)
    panel = _panel(plan, ("Sockets", "Water heater"), volts)
    plan.cable(f"{main}.b", f"{panel}.in", rated_a, 1.0)
    plan.cable(f"{main}.b", f"{item}.ac", rated_a, 1.5)
    _row(plan, panel, 1, "ac_socket")
    _row(plan, panel, 2, "ac_load", rated_w=figure("water_heater_w"), heater=True)


def _inverter_charger(plan: Plan, main: str, volts: int, rated_a: float) -> None:
    answers = plan.answers
    watts, charge_a = inverter_w(answers), charging_a(answers)["shore"]
    item = plan.part("inverter_charger", "Inverter-charger", ("store", 1, "device"),
                     rated_w=watts, charge_a=charge_a, transfer_a=rated_a, input_limit_a=rated_a,
                     output_neutral="relay_bonded", survives_no_battery=True,
                     warning_text=f"Second source of {volts} V", **inverter_fields(plan, volts),
                     **charging_fields(answers.chemistry, plan.house_v))
    draws_a = inverter_a(watts, answers.house_v)
    main_a = rating_a(max(draws_a, charge_a))
    # A breaker takes the place of a switch: shore power would feed past a battery switch.
    switch = plan.part("breaker", "Inverter-charger", ("store", 1, "switch"), rated_a=main_a,
                       **BREAKER)
    plan.branch(f"{plan.named['house bank']}.+", f"{switch}.a", "", main_a, 0.5,
                "Inverter-charger", ("store", 1, "post"), current_a=draws_a, drop=0.005)
    size = plan.size(main_a, draws_a, 1.5, 0.01)
    plan.wire(f"{switch}.b", f"{item}.+", size, 1.5)
    plan.minus(f"{item}.-", size, 1.5, plan.named.get("upper negative", ""))
    plan.cable(f"{main}.b", f"{item}.ac_in", rated_a, 1.0)
    trip = plan.part("residual_current_breaker", "Aboard", ("alternating", 0, "trip"),
                     **trip_fields(rated_a, volts))
    panel = _panel(plan, ("Sockets forward", "Sockets aft"), volts)
    plan.cable(f"{item}.ac_out", f"{trip}.a", rated_a, 0.4)
    plan.cable(f"{trip}.b", f"{panel}.in", rated_a, 0.5)
    _row(plan, panel, 1, "ac_socket")
    _row(plan, panel, 2, "ac_socket")


def _way_a(volts: int) -> float:
    return 10.0 if volts == 230 else 15.0


def _panel(plan: Plan, labels: tuple[str, ...], volts: int) -> str:
    ways = tuple({"id": plan.number("F"), "label": label, "rated_a": _way_a(volts), **AC_WAY}
                 for label in labels)
    return plan.part("ac_panel", f"{volts} V panel", ("alternating", 0, "panel"), ways=ways,
                     dc_parts_in_box="none", place="saloon",
                     warning_text=f"Second source of {volts} V")


def _row(plan: Plan, panel: str, way: int, kind: str, **fields: Any) -> None:
    own = plan.parts[panel].parameters["ways"][way - 1]
    start = f"{panel}.{own['id']}"
    item = plan.part(kind, own["label"], row_of=start, double_insulated=False, **fields)
    plan.cable(start, f"{item}.ac", own["rated_a"], plan.run_m("cabin"))
