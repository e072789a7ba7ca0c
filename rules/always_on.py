"""Which loads are meant to live with every switch off."""

from __future__ import annotations

from model.diagram import Component
from model.kinds.loads import ALWAYS_ON_ROLES

ALWAYS_ON_KINDS = frozenset({"alarm", "gas_alarm", "memory_feed", "monitor", "tracker"})


def is_always_on(load: Component) -> bool | None:
    """Say whether a load is meant to stay live; None when its role is needed to say so."""
    role = load.parameters.get("role")
    if load.parameters.get("stays_live") is True or role in ALWAYS_ON_ROLES:
        return True
    if role is None and load.kind in ALWAYS_ON_KINDS:
        return True
    return None if role is None and load.kind == "bilge_pump" else False


def current_a(load: Component, network_v: float | None = None) -> float | None:
    """Return the current a load draws, from whichever of its fields says so; its watts at the
    volts [V] of its network where it states none. [A].
    """
    fields = load.parameters
    for name in ("cranking_a", "current_a"):
        if name in fields:
            return float(fields[name])
    watts = fields.get("power_w", fields.get("rated_w"))
    volts = fields.get("nominal_v", fields.get("input_v", network_v))
    if watts is not None and volts:
        return float(watts) / float(volts)
    if fields.get("resistance_ohm") and volts:
        return float(volts) / float(fields["resistance_ohm"])
    return None
