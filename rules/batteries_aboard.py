"""The batteries in service: what several rules about batteries look at."""

from __future__ import annotations

from model.diagram import Component
from model.survey import Survey


def batteries_aboard(survey: Survey) -> list[Component]:
    """Return the batteries and banks that are not stored spares."""
    return [part for part in survey.diagram.components.values()
            if part.kind == "battery_bank" and part.stored is not True]
