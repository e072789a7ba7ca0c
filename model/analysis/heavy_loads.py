"""Loads that draw more than a bank is charged with: windlass, winch, thruster, inverter."""

from __future__ import annotations

from model.diagram import Component

MOTORS = frozenset({"windlass", "winch", "thruster"})
INVERTERS = frozenset({"inverter", "inverter_charger"})


def heavy_a(load: Component, nominal_v: float) -> float | None:
    """Return what a heavy load draws at its nominal volts, else those given [V]; None when it is no
    such load or that is not stated. [A].
    """
    p = load.parameters
    if load.kind in INVERTERS:
        volts, watts = p.get("input_v") or nominal_v, p.get("rated_w")
        return watts / volts if watts else None
    if load.kind not in MOTORS and p.get("role") not in MOTORS:
        return None
    watts = p.get("power_w")
    return p.get("current_a") or (watts / (p.get("nominal_v") or nominal_v) if watts else None)
