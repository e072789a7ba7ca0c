"""How long loads run: motors of short times and high currents, and loads that run for hours."""

from __future__ import annotations

from model.diagram import Component

MIN_PER_H, S_PER_H = 60, 3600
MOTOR_KINDS = frozenset({"pump", "bilge_pump", "motor", "windlass", "thruster"})
SHORT_TIME = frozenset({"windlass", "winch", "thruster", "starter"})


def is_short_time_motor(load: Component) -> bool:
    """Say whether a load is a windlass, winch, thruster or starter."""
    return load.kind in SHORT_TIME or load.parameters.get("role") in SHORT_TIME


def runs_for_moments(load: Component, at_most_s: float) -> bool:
    """Say whether a load runs for so short a time [s], by its fields or as what it is."""
    fields = load.parameters
    if "run_s" in fields:
        return bool(fields["run_s"] <= at_most_s)
    return fields.get("intermittent") is True or fields.get("role") == "glow_plug" or (
        is_short_time_motor(load))


def runs_for_hours(load: Component, from_h: float) -> bool | None:
    """Say whether a load runs for so many hours on end [h]; None when nothing tells."""
    fields = load.parameters
    if fields.get("intermittent") is True or is_short_time_motor(load) or (
            load.kind in ("inverter", "inverter_charger")):
        return False
    if "run_s" in fields:
        return bool(fields["run_s"] >= from_h * S_PER_H)
    if "minutes_per_day" in fields:
        return bool(fields["minutes_per_day"] >= from_h * MIN_PER_H)
    return None
