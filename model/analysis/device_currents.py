"""The largest current of each fuse and breaker over the duty cases in which loads draw it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from model.analysis.design_current import CHARGING, DesignCurrent

if TYPE_CHECKING:
    from model.survey import Survey


def drawn_by_loads(survey: Survey) -> Mapping[str, DesignCurrent]:
    """Return the largest current of each device ("P1.w2"); the case in which all sources fill flat
    banks is left out. A drop is not told.
    """
    devices = [edge for edge in survey.graph.edges if edge.role == "overcurrent"]
    found: dict[str, DesignCurrent] = {}
    for case, point in survey.duty.points.items():
        for edge in devices:
            current_a = abs(point.element_a.get(edge.index, 0.0))
            known = found.get(edge.item)
            if case != CHARGING and (known is None or current_a > known.current_a):
                found[edge.item] = DesignCurrent(current_a, 0.0, case)
    return found
