"""The banks: house, bow and reserve; each with the fuse at its post and its disconnect."""

from __future__ import annotations

from typing import Any

from app.new_boat.answers import Answers
from app.new_boat.figures import KIN, figure, volts
from app.new_boat.plan import Plan
from app.new_boat.ratings import charging_a, inverter_a, inverter_w, motor_a
from app.new_boat.sizing import next_rating_a

SELECTIVE, SPARE = 1.3, 1.1  # of a main fuse over the largest behind it, and over all at once
SEEN = {"hold_down": True, "covered": True, "under_charger": False, "vented_overboard": True,
        "below_fuel_gear": False, "above_fuel_gear": False}
SWITCH = {"rated_v": 60, "role": "bank", "normal": "closed", "poles": "+", "within_reach": True}
MANAGED = {"management": "internal", "alarm": "sounder", "reports_state_of_charge": True,
           "cold_charge_cutoff": True, "heated": False}


def battery_fields(chemistry: str, nominal_v: float, capacity_ah: float) -> dict[str, Any]:
    """Return the fields of a bank of a chemistry, volts and size."""
    times = nominal_v / 12
    kin = KIN[chemistry]
    fields: dict[str, Any] = {
        "chemistry": chemistry, "capacity_ah": capacity_ah,
        "rest_v": volts(f"{kin}_rest", nominal_v),
        "max_charge_v": volts(f"{kin}_max_charge", nominal_v),
        "internal_resistance_ohm": round(figure(f"{kin}_ohm_ah_12v") * times / capacity_ah, 5),
        "max_charge_a": figure(f"{kin}_charge_per_ah") * capacity_ah, **SEEN}
    if chemistry == "lfp":
        return {**fields, "block_nominal_v": nominal_v, "series_count": 1, **MANAGED,
                "max_discharge_a": figure("lfp_discharge_per_ah") * capacity_ah}
    return {**fields, "block_nominal_v": 12, "series_count": round(times),
            "cranking_a": figure(f"{kin}_cranking_a_per_ah") * capacity_ah}


def parallel_fields(capacity_ah: float) -> dict[str, Any]:
    """Return how blocks are joined to a bank: a fuse for each string where there are several."""
    count = max(1, round(capacity_ah / figure("block_ah")))
    if count == 1:
        return {"parallel_count": 1}
    return {"parallel_count": count, "takeoff": "diagonal", "block_fuses": "each",
            "max_in_parallel": 4}


def house_bank(plan: Plan) -> None:
    """Draw the house bank with its fuse, switch and the two buses: switched and always on."""
    answers = plan.answers
    bank = plan.part("battery_bank", "House bank", ("store", 0, "bank"), duty="house",
                     **battery_fields(answers.chemistry, plan.house_v, answers.capacity_ah),
                     **parallel_fields(answers.capacity_ah))
    main_a = _main_a(plan)
    fuse = plan.fuse(main_a, "House main", ("store", 0, "post"), on_post=True)
    switch = plan.part("battery_switch", "House", ("store", 0, "switch"), kills="house loads",
                       rated_continuous_a=main_a, rated_cranking_a=1000, **SWITCH)
    house = plan.bar("House bus", "+", 600, ("heavy", 0, "bus"))
    size = plan.size(main_a, plan.currents["house"], 1, 0.01)
    plan.wire(f"{bank}.+", f"{fuse}.a", size, 0.1)
    plan.wire(f"{fuse}.b", f"{switch}.a", size, 0.4)
    plan.wire(f"{switch}.b", plan.stud(house), size, 0.4)
    plan.named.update({"house bank": bank, "house bus": house, "house switch": switch})
    _battery_bus(plan, bank)
    _negative(plan, bank, main_a)


def _main_a(plan: Plan) -> float:
    largest, together = _house_currents(plan.answers)
    plan.currents["house"] = together
    return next_rating_a(max(250.0, SPARE * together, SELECTIVE * next_rating_a(1.25 * largest)))


def _house_currents(answers: Answers) -> tuple[float, float]:
    """Return the largest current of one house load and what may be drawn at once. [A]"""
    motors = [motor_a(name, answers) for name in ("windlass", "thruster")
              if getattr(answers, name) and not answers.bow_bank]
    lasting = 0.0
    if answers.inverter or (answers.shore_v and answers.shore_unit == "inverter_charger"):
        lasting = inverter_a(inverter_w(answers), answers.house_v)
    panel = figure("panel_together_w") / answers.house_v
    return max([*motors, lasting, panel]), max(motors, default=0) + lasting + panel


def _always_a(plan: Plan) -> float:
    """Return the rating of the battery bus's fuse, by all that charges at once. [A]"""
    given = charging_a(plan.answers)
    charges_a = sum(given.values()) + given.get("converter", 0) * (plan.answers.engines - 1)
    largest = max(given.values())
    return next_rating_a(max(80.0, 1.25 * charges_a, SELECTIVE * next_rating_a(1.25 * largest)))


def _battery_bus(plan: Plan, bank: str) -> None:
    always_a = _always_a(plan)
    fuse = plan.fuse(always_a, "Battery bus", ("store", -1, "post"))
    bus = plan.bar("Battery bus, always on", "+", 300, ("charge", 0, "bus"))
    size = plan.size(always_a, always_a / 2, 0.5, 0.005)
    plan.wire(f"{bank}.+", f"{fuse}.a", size)
    plan.wire(f"{fuse}.b", plan.stud(bus), size, 0.3)
    plan.named["battery bus"] = bus


def _negative(plan: Plan, bank: str, main_a: float) -> None:
    shunt = plan.part("shunt", "Shunt", ("store", 0, "shunt"), rated_a=500, rated_mv=50,
                      short_time_a=700, measures=bank, poles="-")
    bus = plan.bar("Negative bus", "-", 600, ("store", 0, "negative"))
    cranks_a = figure("engine_negative_carries_a") if plan.answers.is_one_voltage else 0
    size = plan.size(max(main_a, _always_a(plan), cranks_a), hot=cranks_a > 0)
    first = plan.stud(bus)
    plate = plan.part("earth_plate", "Earth plate", ("store", 0, "plate"))
    plan.wire(f"{plate}.n", plan.stud(bus), size, 1, ("-",))
    plan.wire(f"{bank}.-", f"{shunt}.a", size, 0.4, ("-",))
    plan.wire(f"{shunt}.b", first, size, 0.4, ("-",))
    plan.named.update({"negative bus": bus, "shunt": shunt, "datum": first,
                       "motor negative": bus})
    if plan.answers.negatives:
        upper = plan.bar("Upper negative bus", "-", 600, ("store", 0, "upper negative"))
        plan.wire(plan.stud(upper), plan.stud(bus), size, 0.8, ("-",))
        plan.named.update({"upper negative": upper, "motor negative": upper})


def bow_bank(plan: Plan) -> None:
    """Draw the bank of windlass and thruster, charged from the house by a converter."""
    bank = plan.part("battery_bank", "Bow bank", ("bow", 0, "bank"), duty="thruster",
                     **battery_fields("agm", plan.house_v, figure("bow_bank_ah")))
    largest = max(motor_a(name, plan.answers) for name in ("windlass", "thruster")
                  if getattr(plan.answers, name))
    main_a = next_rating_a(1.25 * largest)
    fuse = plan.fuse(main_a, "Bow main", ("bow", 0, "post"), on_post=True)
    switch = plan.part("battery_switch", "Bow", ("bow", 0, "switch"), kills="bow loads",
                       rated_continuous_a=main_a, rated_cranking_a=1000, **SWITCH)
    bus = plan.bar("Bow bus", "+", 400, ("bow", 0, "bus"))
    size = plan.size(main_a, largest, 1, 0.01)
    plan.wire(f"{bank}.+", f"{fuse}.a", size, 0.1)
    plan.wire(f"{fuse}.b", f"{switch}.a", size, 0.4)
    plan.wire(f"{switch}.b", plan.stud(bus), size, 0.4)
    plan.named.update({"heavy bus": bus, "bow bank": bank})
    if plan.answers.negatives:
        bar = plan.bar("Bow negative", "-", 400, ("bow", 0, "negative"))
        plan.minus(f"{bank}.-", size, 0.4, bar)
        plan.named.update({"bow negative": bar, "motor negative": bar})


def reserve_bank(plan: Plan) -> None:
    """Draw the small lead bank that lights and radio have when the lithium bank has opened."""
    bank = plan.part("battery_bank", "Reserve bank", ("reserve", 0, "bank"), duty="house",
                     **battery_fields("agm", plan.house_v, figure("reserve_bank_ah")))
    fuse = plan.fuse(100, "Reserve main", ("reserve", 0, "post"), on_post=True)
    link = plan.part("emergency_link", "Reserve to house", ("reserve", 0, "switch"),
                     **link_fields(150))
    size = plan.size(100)
    plan.wire(f"{bank}.+", f"{fuse}.a", size, 0.1)
    plan.wire(f"{fuse}.b", f"{link}.a", size, 0.4)
    plan.wire(f"{link}.b", plan.stud(plan.named["house bus"]), size, 1)
    plan.minus(f"{bank}.-", size, 1)
    plan.named["reserve bank"] = bank


def link_fields(rated_a: float) -> dict[str, Any]:
    """Return the fields of a switch that joins two banks in need and stands open."""
    return {"rated_continuous_a": rated_a, "rated_cranking_a": 1000, "rated_v": 60,
            "role": "emergency_link", "normal": "open", "poles": "+", "within_reach": True}

