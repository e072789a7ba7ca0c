"""Where a part is, as the drawing tells: how far along a short cable from one that is found."""

from __future__ import annotations

from model.survey import Survey
from rules.wording import designation, quantity

WITHIN_M = 0.5  # so far along a cable a hand finds a part; common practice, no source


def beside(survey: Survey, item: str) -> str:
    """Return how far along its shortest cable a part is from one whose place is known, "" when none
    is near.
    """
    diagram = survey.diagram
    found = []
    for wire in diagram.conductors.values():
        one, other = (end.component for end in wire.ends())
        far = {one: other, other: one}.get(item)
        if far is None or wire.length_m is None or wire.length_m > WITHIN_M:
            continue
        part = diagram.components[far]
        if part.place is not None or part.position_note:
            found.append((wire.length_m, far))
    if not found:
        return ""
    length_m, far = min(found)
    return f"{quantity('length_m', length_m, diagram)} along the cable from " + (
        designation(diagram, far))
