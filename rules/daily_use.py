"""What is taken from a bank in a day, as far as minutes are written down."""

from __future__ import annotations

from collections.abc import Iterable

from model.analysis.fed_by import fed_loads
from model.survey import Survey
from rules.always_on import current_a
from rules.motors import MIN_PER_H


def daily_ah(batteries: Iterable[str], survey: Survey) -> float:
    """Return what the loads of a bank take in a day by their minutes and currents. [Ah]."""
    total_ah = 0.0
    for item in fed_loads(survey.graph, batteries, {}):
        load = survey.diagram.components[item]
        minutes, amperes = load.parameters.get("minutes_per_day"), current_a(load)
        if minutes is not None and amperes is not None:
            total_ah += amperes * minutes / MIN_PER_H
    return round(total_ah, 1)
