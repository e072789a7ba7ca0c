"""The breakers that open both conductors in place of those that open the live one alone."""

from __future__ import annotations

from collections.abc import Sequence

from model.analysis.alternating import live_devices, poles_field
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.rule import Fix
from rules.wording import named

_BOTH = {"poles": "both", "poles_opened": "L_and_N"}


def double_pole(survey: Survey, devices: Sequence[str]) -> Fix:
    """Return the fix that makes AC devices double-pole."""
    title = f"Fit double-pole breakers as {named(survey.diagram, devices)}" if (
        len(devices) > 1) else f"Fit a double-pole breaker as {named(survey.diagram, devices)}"
    fields = [poles_field(survey.graph, edge).rpartition(".")
              for edge in live_devices(survey.graph) if edge.item in devices]
    return Fix(title, "choice", together(survey.diagram, title, *(
        lambda diagram, item=item, name=name: with_fields(
            diagram, title, item, **{name: _BOTH[name]}) for item, _, name in fields)))
