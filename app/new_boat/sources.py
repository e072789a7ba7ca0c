"""Sun and wind: each from its generator through a stop and a controller to the battery bus."""

from __future__ import annotations

from app.new_boat.figures import charging_fields, figure
from app.new_boat.plan import Plan, rating_a
from app.new_boat.ratings import charging_a

STOP = {"role": "source_stop", "normal": "closed", "poles": "+", "within_reach": True}


def solar(plan: Plan) -> None:
    """Draw two panels in series, a disconnect and a controller."""
    out_a = max(2.0, charging_a(plan.answers)["solar"])
    panel_w = int(out_a * plan.house_v / 2)
    isc_a = round(figure("panel_isc_a") * panel_w / figure("panel_w"), 1)
    column = plan.column("charge")
    array = plan.part("solar_array", "Solar panels", ("charge", column, "source"), place="deck",
                      panel_w=panel_w, series_count=2, parallel_count=1,
                      panel_voc_v=figure("panel_voc_v"), panel_vmp_v=figure("panel_vmp_v"),
                      panel_isc_a=isc_a, max_series_fuse_a=15)
    stop = plan.part("disconnector", "Solar", ("charge", column, "stop"), rated_continuous_a=32,
                     rated_v=100, **STOP)
    item = plan.part("solar_controller", "Solar controller", ("charge", column, "device"),
                     type="mppt", rated_output_a=rating_a(out_a, 1.0), max_input_v=100,
                     max_input_a=15, output_v=plan.house_v, sense="own_terminal",
                     survives_no_battery=True,
                     **charging_fields(plan.answers.chemistry, plan.house_v))
    size = plan.size(20, isc_a, plan.run_m("deck"), 0.03)
    plan.wire(f"{array}.+", f"{stop}.a", size, plan.run_m("deck"))
    plan.wire(f"{stop}.b", f"{item}.pv+", size, 0.5)
    if plan.answers.negatives:
        plan.wire(f"{array}.-", f"{item}.pv-", size, plan.run_m("deck"), ("-",))
    _to_bus(plan, item, column, rating_a(out_a, 1.0), "Solar")


def wind(plan: Plan) -> None:
    """Draw a wind generator with its brake switch, controller and diversion load."""
    out_a = max(2.0, charging_a(plan.answers)["wind"])
    column = plan.column("charge")
    rotor = plan.part("wind_generator", "Wind generator", ("charge", column, "source"),
                      place="deck", rated_a=out_a, nominal_v=plan.house_v,
                      regulation="controller", stop_by="short_switch", dump_load=True,
                      max_v=figure("wind_max_v") * plan.house_v)
    dump = plan.part("dump_load", "Diversion", ("charge", column, "side"), current_a=out_a)
    item = plan.part("wind_controller", "Wind controller", ("charge", column, "device"),
                     rated_output_a=out_a, output_v=plan.house_v, dump_load=dump,
                     survives_no_battery=True,
                     **charging_fields(plan.answers.chemistry, plan.house_v))
    size = plan.size(rating_a(out_a), out_a, plan.run_m("deck"), 0.03)
    plan.wire(f"{rotor}.+", f"{item}.in+", size, plan.run_m("deck"))
    plan.minus(f"{rotor}.-", size, plan.run_m("deck"), plan.named.get("upper negative", ""))
    plan.wire(f"{item}.dump", f"{dump}.+", size, 0.5)
    plan.minus(f"{dump}.-", size, 0.5, plan.named.get("upper negative", ""))
    _to_bus(plan, item, column, out_a, "Wind")


def _to_bus(plan: Plan, item: str, column: int, out_a: float, name: str) -> None:
    plan.branch(plan.stud(plan.named["battery bus"]), f"{item}.out+", f"{item}.out-",
                rating_a(out_a), plan.run_m("near"), name, ("charge", column, "fuse"),
                current_a=out_a, drop=0.01)
