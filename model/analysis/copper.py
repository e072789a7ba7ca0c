"""How much copper a conductor has."""

from __future__ import annotations

from model.diagram import Conductor
from model.units import area_mm2


def copper_mm2(wire: Conductor) -> float | None:
    """Return the copper of a conductor with its equals side by side, None when unknown. [mm2]."""
    if wire.size is None:
        return None
    return area_mm2(wire.size.standard, wire.size.text) * (wire.parallel_count or 1)
