"""The sheet of the AC side for the owner's manual: sources, protection, sockets, bonds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from app.drawing.wording import designation, figure
from app.pack.schedules import UNKNOWN
from app.pack.tables import Column, Row, Table
from app.reports import CAUTION
from model.diagram import Component, Diagram
from model.kinds import kind_of
from model.kinds.distribution import panel_ways

ALTERNATING = frozenset({
    "shore_inlet", "generating_set", "ac_breaker", "residual_current_breaker", "ac_panel",
    "ac_load", "ac_socket", "isolation_transformer", "galvanic_isolator", "ac_transfer_switch",
    "neutral_earth_bond", "inverter", "inverter_charger", "shore_charger", "polarity_indicator"})
RATED = (("rated_a", "A"), ("rated_w", "W"), ("transfer_a", "A"))


def alternating_table(diagram: Diagram) -> Table | None:
    """Return the parts of the AC side, or None when there are none."""
    parts = [part for part in diagram.components.values() if part.kind in ALTERNATING]
    if not parts:
        return None
    columns = (Column("Part", 0.08, "bold"), Column("What it is", 0.26), Column("Rated", 0.1),
               Column("Opens", 0.1), Column("Trips at a leak of", 0.14), Column("Where", 0.32))
    rows = tuple(row for part in parts for row in _rows(diagram, part))
    return Table("Alternating current", columns, rows,
                 "Disconnect shore, generating set and inverter before opening anything. AC kills.",
                 CAUTION)


def _rows(diagram: Diagram, part: Component) -> Iterator[Row]:
    facts = part.parameters
    place = diagram.places.get(part.place or "")
    where = ", ".join(filter(None, (place.name if place else "", part.position_note)))
    yield Row((designation(part), part.name or kind_of(part).title, _rated(facts),
               _opens(facts, kind_of(part).field("poles_opened") is not None),
               figure(facts.get("residual_ma"), "mA"), where or UNKNOWN), part.id)
    if part.kind == "ac_panel":
        for way in panel_ways(facts):
            yield Row((f"{designation(part)}.{way['id']}", str(way.get("label", "")), _rated(way),
                       _opens(way, True), figure(way.get("residual_ma"), "mA"), ""), "")


def _rated(facts: Mapping[str, Any]) -> str:
    return next((figure(facts[name], unit) for name, unit in RATED if name in facts), "")


def _opens(facts: Mapping[str, Any], asked: bool) -> str:
    poles = facts.get("poles_opened") or facts.get("poles")
    words = {"L_and_N": "L and N", "both": "L and N", "+": "L"}
    return words.get(str(poles), str(poles)) if poles else UNKNOWN if asked else ""
