"""An engine with its start bank, starter, alternator, controls and the way to the house bank."""

from __future__ import annotations

from app.new_boat.bank import SWITCH, battery_fields, link_fields
from app.new_boat.figures import charging_fields, figure
from app.new_boat.figures import volts as at_volts
from app.new_boat.plan import CRITICAL_DROP, Plan, rating_a
from app.new_boat.ratings import charging_a
from model.diagram import Size

CONTROLS_DROP = 0.75 * CRITICAL_DROP  # the harness leads through the engine, there and back


def engine(plan: Plan, number: int) -> None:
    """Draw one engine; `number` counts from 0."""
    answers = plan.answers
    volts, zone = float(answers.start_v), f"engine{number}"
    side = "" if answers.engines == 1 else (" port", " stbd")[number]
    block = plan.part("engine_block", f"Engine{side}", (zone, 0, "engine"), fuel=answers.fuel,
                      type="inboard", stop="mechanical", runs_without_power=True,
                      place=zone, max_starter_drop_v=at_volts("starter_most_drop", volts))
    bank = plan.part("battery_bank", f"Start bank{side}", (zone, 2, "bank"), duty="start",
                     **{**battery_fields("flooded", volts, figure("start_bank_ah")),
                        "cranking_a": figure("start_bank_cranking_a")})
    crank_a = figure(f"starter_a_{volts:g}v")
    starter = plan.part("starter", f"Starter{side}", (zone, 1, "machine"), cranking_a=crank_a,
                        driven_by=block, mounted_on=block, return_by="case", place=zone,
                        ignition_protected=True)
    switch = plan.part("battery_switch", f"Engine{side}", (zone, 2, "switch"),
                       kills=f"engine{side}", rated_continuous_a=350, **{
                           **SWITCH, "rated_cranking_a": 1000})
    bus = plan.bar(f"Engine bus{side}", "+", 400, (zone, 2, "bus"))
    size = plan.size(figure("engine_negative_carries_a"), crank_a, 2, 0.02, volts, hot=True)
    plan.wire(f"{bank}.+", f"{switch}.a", size, 0.6)
    plan.wire(f"{switch}.b", plan.stud(bus), size, 0.4)
    plan.wire(plan.stud(bus), f"{starter}.+", size, 1.2, engine_space_m=1)
    _returns(plan, block, bank, size)
    plan.engines.append({"block": block, "bank": bank, "bus": bus, "side": side})
    _alternator(plan, zone, block, bank, side)
    _controls(plan, zone, bank, bus, side)
    _converter(plan, zone, bank, side)


def _returns(plan: Plan, block: str, bank: str, size: Size) -> None:
    """Draw what the starter's current comes home by: the first engine's over the negative bus, a
    second one's at its own block, which is joined to the first as thick as it cranks.
    """
    if not plan.engines:
        bus = plan.named["negative bus"]
        plan.wire(f"{bank}.-", plan.stud(bus), size, 1, ("-",))
        plan.wire(f"{block}.n3", plan.stud(bus), size, 1.2, ("-",), engine_space_m=1)
        return
    plan.wire(f"{bank}.-", f"{block}.n4", size, 1, ("-",), engine_space_m=0.5)
    plan.wire(f"{block}.n3", f"{plan.engines[0]['block']}.n1", size, 2, ("-",),
              engine_space_m=2)


def _alternator(plan: Plan, zone: str, block: str, bank: str, side: str) -> None:
    volts = float(plan.answers.start_v)
    rated_a = figure(f"alternator_a_{volts:g}v")
    item = plan.part("alternator", f"Alternator{side}", (zone, 0, "machine"), rated_a=rated_a,
                     nominal_v=volts, driven_by=block, mounted_on=block, return_by="case",
                     regulation="internal", set_v=at_volts("alternator_set", volts),
                     sense="machine", temperature_sensor=False, place=zone,
                     ignition_protected=True)
    plan.branch(f"{bank}.+", f"{item}.+", "", rating_a(rated_a, 1.35), 1.5, f"Alternator{side}",
                (zone, 1, "post"), current_a=rated_a, drop=0.015, volts=volts, hot_m=1)


def _controls(plan: Plan, zone: str, bank: str, bus: str, side: str) -> None:
    volts = float(plan.answers.start_v)
    petrol = plan.answers.fuel == "petrol"
    current_a = plan.amperes("engine_control", volts)
    item = plan.part("instrument", f"Engine panel{side}", (zone, 3, "machine"), current_a=current_a,
                     role="ignition" if petrol else "engine_control", own_switch=True,
                     stays_live=petrol and plan.answers.engines > 1,
                     nominal_v=volts)
    # The ignition of twins hangs on its own battery: no switch may stop one engine alone.
    start = f"{bank}.+" if petrol and plan.answers.engines > 1 else plan.stud(bus)
    fuse = plan.branch(start, f"{item}.+", "", 10, plan.run_m("helm"), f"Engine panel{side}",
                       (zone, 3, "fuse"), current_a=current_a, drop=CONTROLS_DROP, volts=volts)
    if plan.answers.negatives:  # in the engine's harness
        plan.wire(f"{item}.-", f"{plan.engines[-1]['block']}.n2", plan.size_behind(fuse),
                  plan.run_m("helm"), ("-",), engine_space_m=1)


def _converter(plan: Plan, zone: str, bank: str, side: str) -> None:
    answers = plan.answers
    start_v, house_v = float(answers.start_v), plan.house_v
    out_a = max(4.0, charging_a(answers)["converter"])
    in_a = out_a * house_v / start_v / figure("converter_efficiency")
    item = plan.part("dc_dc_charger", f"To house{side}", ("charge", plan.column("charge"),
                     "device"), input_v=start_v, output_v=house_v, rated_output_a=out_a,
                     isolated=False, run_signal="none",
                     start_above_v=at_volts("start_converter_starts", start_v),
                     stop_below_v=at_volts("start_converter_stops", start_v),
                     efficiency=figure("converter_efficiency"),
                     sense="own_terminal", **charging_fields(answers.chemistry, house_v))
    column = plan.slots[item][1]
    plan.branch(f"{bank}.+", f"{item}.in+", "", rating_a(in_a), plan.run_m("near"),
                f"To house{side}", (zone, 3, "post"), current_a=in_a, drop=0.02, volts=start_v)
    plan.branch(plan.stud(plan.named["battery bus"]), f"{item}.out+", f"{item}.-",
                rating_a(max(in_a, out_a)), plan.run_m("near"), f"House charging{side}",
                ("charge", column, "fuse"), current_a=out_a, drop=0.01)


def links(plan: Plan) -> None:
    """Draw the switches that let one bank crank in place of another."""
    size = plan.size(figure("engine_negative_carries_a"), hot=True)
    buses = [one["bus"] for one in plan.engines]
    pairs = [(a, b, "Engine to engine") for a, b in zip(buses, buses[1:], strict=False)]
    if plan.answers.is_one_voltage:
        pairs.append((buses[0], plan.named["house bus"], "House to engine"))
    for number, (a, b, name) in enumerate(pairs):
        link = plan.part("emergency_link", name, ("link", number, "switch"), **link_fields(300))
        plan.wire(plan.stud(a), f"{link}.a", size, 0.5)
        plan.wire(f"{link}.b", plan.stud(b), size, 0.5)
