"""How much copper a conductor has."""

from __future__ import annotations

from model.diagram import Conductor
from model.tables import conductor_sizes
from model.units import area_mm2


def copper_mm2(wire: Conductor) -> float | None:
    """Return the copper of a conductor with its equals side by side, None when unknown. [mm2]."""
    if wire.size is None:
        return None
    return area_mm2(wire.size.standard, wire.size.text) * (wire.parallel_count or 1)


def known_copper_mm2(wire: Conductor) -> float:
    """Return the copper of a conductor, nothing when its size is not known. [mm2]."""
    return copper_mm2(wire) or 0.0


def one_size_below_mm2(wire: Conductor) -> float:
    """Return the copper of the size below a conductor's own in its standard. [mm2]."""
    if wire.size is None:
        return 0.0
    own = known_copper_mm2(wire)
    return max((area for size in conductor_sizes(wire.size.standard)
                if (area := area_mm2(size.standard, size.text)) < own), default=0.0)
