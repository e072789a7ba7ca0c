"""What each terminal of a part is joined to, as links to the conductor and the far part."""

from __future__ import annotations

from collections.abc import Iterator

from app.panels.form_words import linked, sized
from app.words import _
from model.diagram import Component, Diagram

MOST_SHOWN = 40


def connections(diagram: Diagram, component: Component) -> list[str]:
    """Return the lines of a part's connections; of very many, the last says how many more."""
    lines = list(_lines(diagram, component))
    more = len(lines) - MOST_SHOWN
    return lines if more <= 0 else [
        *lines[:MOST_SHOWN], _("and {count} more").format(count=more)]


def _lines(diagram: Diagram, component: Component) -> Iterator[str]:
    panel, _dot, way = (component.row_of or "").partition(".")
    if panel in diagram.components:
        yield _("In the row {way} of {panel}").format(way=way, panel=linked(diagram, panel))
    joined = sorted(
        (here.terminal, wire.id, there.component) for wire in diagram.conductors.values()
        for here, there in (wire.ends(), wire.ends()[::-1]) if here.component == component.id)
    for terminal, wire_id, far in joined:
        yield (f"<b>{terminal}</b>&nbsp; {linked(diagram, wire_id)} "
               f"{sized(diagram.conductors[wire_id], diagram.boat.length_unit)} "
               f"{_('to')} {linked(diagram, far)}")
