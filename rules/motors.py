"""Motors that run for short times at high currents: the rules on them speak of the same ones."""

from __future__ import annotations

from model.diagram import Component

SHORT_TIME = frozenset({"windlass", "winch", "thruster", "starter"})


def is_short_time_motor(load: Component) -> bool:
    """Say whether a load is a windlass, winch, thruster or starter."""
    return load.kind in SHORT_TIME or load.parameters.get("role") in SHORT_TIME
