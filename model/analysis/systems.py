"""The DC systems of a boat by their nominal volts."""

from __future__ import annotations

from collections.abc import Iterable

from model.diagram import DcSystem, Diagram
from model.kinds.storage import is_same_nominal


def draws_returns(diagram: Diagram) -> bool:
    """Say whether the returns of any system are drawn."""
    return any(system.returns == "drawn" for system in diagram.systems.values())


def systems_of(diagram: Diagram, volts: Iterable[float | None]) -> list[DcSystem]:
    """Return the systems that have one of some nominal volts, of either sign. [V]."""
    wanted = [value for value in volts if value]
    return [system for system in diagram.systems.values() if system.nominal_v is not None
            and any(is_same_nominal(system.nominal_v, value) for value in wanted)]
