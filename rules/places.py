"""Where parts are: the recorded place of a part, if there is one."""

from __future__ import annotations

from model.diagram import Component, Diagram, Place


def place_of(diagram: Diagram, part: Component) -> Place | None:
    """Return the place a part is recorded in, or None."""
    return diagram.places.get(part.place) if part.place is not None else None
