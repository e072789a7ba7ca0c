"""Loads that draw more than a bank is charged with: windlass, winch, thruster, inverter."""

from __future__ import annotations

from model.diagram import Component

MOTORS = frozenset({"windlass", "winch", "thruster"})
INVERTERS = frozenset({"inverter", "inverter_charger"})


def is_heavy(load: Component) -> bool:
    """Say whether a load is an inverter, or a motor that draws more than a bank is charged with."""
    return load.kind in INVERTERS | MOTORS or load.parameters.get("role") in MOTORS


def heavy_field(load: Component) -> str:
    """Return the field that states what a heavy load draws."""
    return f"{load.id}.{'rated_w' if load.kind in INVERTERS else 'current_a'}"


def heavy_a(load: Component, nominal_v: float) -> float | None:
    """Return what a heavy load draws at its nominal volts, else those given [V]; None when it is no
    such load or that is not stated. [A].
    """
    p = load.parameters
    if not is_heavy(load):
        return None
    if load.kind in INVERTERS:
        volts, watts = p.get("input_v") or nominal_v, p.get("rated_w")
        return watts / volts if watts else None
    watts = p.get("power_w")
    return p.get("current_a") or (watts / (p.get("nominal_v") or nominal_v) if watts else None)
