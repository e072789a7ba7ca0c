"""What volts start and stop, and what comes to no rest by that."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from model.analysis.design_current import running, short_time_loads

if TYPE_CHECKING:
    from model.survey import Survey


def unsteady(survey: Survey) -> Mapping[str, str]:
    """Return the relays, chargers and converters that go on acting on the volts they change
    themselves, each with the first duty case that lasts in which it does.
    """
    brief = set(map(running, short_time_loads(survey)))
    found: dict[str, str] = {}
    for case, point in survey.duty.points.items():
        for problem in point.problems if case not in brief else ():
            if problem.kind == "unsettled":
                found.update((item, case) for item in problem.ids if item not in found)
    return found
