"""The isolation card: with every main switch off, what stays live, and from what."""

from __future__ import annotations

from app.drawing.wording import designation
from app.pack.tables import Column, Row, Table
from app.reports import CAUTION
from model.analysis.still_live import LivePart, live_with_all_off
from model.diagram import Diagram
from model.kinds import kind_of
from model.storage.plain import natural_key
from model.survey import Survey


def isolation_card(diagram: Diagram, survey: Survey) -> Table | None:
    """Return the card, or None for a boat without any source."""
    if not any(kind_of(part).source for part in diagram.components.values()):
        return None
    columns = (Column("Stays live", 0.08, "bold"), Column("Name", 0.24),
               Column("From", 0.2), Column("By way of", 0.48))
    parts = live_with_all_off(survey).parts
    rows = tuple(_row(diagram, parts[item]) for item in sorted(parts, key=natural_key))
    return Table(
        "Isolation card", columns, rows,
        "Every main switch off; shore, sun, wind and engines giving. What is listed here is LIVE. "
        "Test before touching.", CAUTION)


def _row(diagram: Diagram, part: LivePart) -> Row:
    component = diagram.components[part.id]
    ways = ["\u2013".join(_called(diagram, item) for item in way) for way in part.ways.values()]
    return Row((designation(component), component.name or kind_of(component).title,
                ", ".join(_called(diagram, source) for source in part.ways),
                "; ".join(ways)), part.id)


def _called(diagram: Diagram, item: str) -> str:
    owner, dot, way = item.partition(".")
    thing = diagram.components.get(owner) or diagram.conductors.get(owner)
    return (designation(thing) if thing is not None else owner) + dot + way
