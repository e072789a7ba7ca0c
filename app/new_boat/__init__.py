"""What a new, empty diagram holds: one 12 V system, a few ways of living, nothing drawn."""

from __future__ import annotations

from model.diagram import BoatInfo, DcSystem, Diagram, Mode
from model.frozen_map import FrozenMap


def new_diagram(name: str = "", rule_set: str = "iso") -> Diagram:
    """Return an empty diagram for a boat of the given name and rule set."""
    boat = BoatInfo.read({"name": name, "rule_set": rule_set})
    system = DcSystem(id="dc12", name="12 V", nominal_v=12, earthing="negative_earthed")
    modes = (
        Mode(id="anchor", name="At anchor", purpose="at_anchor", usual=True),
        Mode(id="passage", name="On passage", purpose="passage", usual=True),
        Mode(id="motoring", name="Motoring", purpose="motoring", usual=True),
        Mode(id="shore", name="On shore power", purpose="shore", usual=True),
    )
    return Diagram(
        boat=boat,
        systems=FrozenMap({system.id: system}),
        modes=FrozenMap({mode.id: mode for mode in modes}),
    )
