"""The sheet of the AC side for the owner's manual: sources, protection, sockets, bonds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from app.drawing.wording import designation, figure
from app.pack.schedules import UNKNOWN
from app.pack.tables import Column, Row, Table
from app.reports import CAUTION
from model.analysis.alternating import ac_sources, fed_from
from model.diagram import Component, Diagram
from model.graph import TerminalGraph
from model.kinds import kind_of
from model.kinds.distribution import panel_ways

ALTERNATING = frozenset({
    "shore_inlet", "generating_set", "ac_breaker", "residual_current_breaker", "ac_panel",
    "ac_load", "ac_socket", "isolation_transformer", "galvanic_isolator", "ac_transfer_switch",
    "neutral_earth_bond", "inverter", "inverter_charger", "shore_charger", "polarity_indicator"})
RATED = (("rated_a", "A"), ("rated_w", "W"), ("transfer_a", "A"))
BONDS = {
    ("neutral_bond", "at_frame"): "neutral joined to earth at its frame",
    ("neutral_bond", "none"): "neutral floats",
    ("output_neutral", "bonded"): "output neutral joined to earth, always",
    ("output_neutral", "relay_bonded"): "output neutral joined to earth by a relay",
    ("output_neutral", "floating"): "output neutral floats",
    ("secondary_bond", "bonded"): "secondary neutral joined to earth",
    ("secondary_bond", "floating"): "secondary neutral floats",
    ("present_when", "always"): "joins neutral and earth, always",
    ("present_when", "this_source_supplies"): "joins neutral and earth while its source supplies",
    ("switches_neutral", True): "switches the neutral too",
    ("switches_neutral", False): "leaves the neutrals joined",
}


def alternating_table(diagram: Diagram) -> Table | None:
    """Return the parts of the AC side, or None when there are none."""
    parts = [part for part in diagram.components.values() if part.kind in ALTERNATING]
    if not parts:
        return None
    columns = (Column("Part", 0.08, "bold"), Column("What it is", 0.2), Column("Rated", 0.08),
               Column("Opens", 0.08), Column("Trips at a leak of", 0.1), Column("Fed by", 0.1),
               Column("Neutral and earth", 0.2), Column("Where", 0.16))
    feeding = _feeding(diagram)
    rows = tuple(row for part in parts for row in _rows(diagram, part, feeding.get(part.id, "")))
    return Table("Alternating current", columns, rows,
                 "Disconnect shore, generating set and inverter before opening anything. AC kills.",
                 CAUTION)


def _feeding(diagram: Diagram) -> dict[str, str]:
    """Return for each part of the AC side the sources that can feed it, in words."""
    graph = TerminalGraph(diagram)
    found: dict[str, list[str]] = {}
    for source in ac_sources(graph):
        for item in sorted({graph.component_of[node] for node in fed_from(graph, source.live)}):
            if item != source.part.id:
                found.setdefault(item, []).append(designation(source.part))
    return {item: ", ".join(sources) for item, sources in found.items()}


def _rows(diagram: Diagram, part: Component, fed_by: str) -> Iterator[Row]:
    facts = part.parameters
    place = diagram.places.get(part.place or "")
    where = ", ".join(filter(None, (place.name if place else "", part.position_note)))
    guards = kind_of(part).field("poles_opened") is not None
    rated = f"{_rated(facts)} DC" if part.kind == "shore_charger" else _rated(facts)
    leak = facts.get("residual_ma", facts.get("ground_fault_ma"))
    bond = next((words for (name, value), words in BONDS.items() if facts.get(name) == value), "")
    yield Row((designation(part), part.name or kind_of(part).title, rated,
               _opens(facts) if guards else "", _leak(leak), fed_by, bond, where or UNKNOWN),
              part.id)
    if part.kind == "ac_panel":
        for way in panel_ways(facts):
            yield Row((f"{designation(part)}.{way['id']}", str(way.get("label", "")), _rated(way),
                       _opens(way), _leak(way.get("residual_ma")), fed_by, "", ""), "")


def _rated(facts: Mapping[str, Any]) -> str:
    return next((figure(facts[name], unit) for name, unit in RATED if name in facts), "")


def _opens(facts: Mapping[str, Any]) -> str:
    poles = facts.get("poles_opened") or facts.get("poles")
    words = {"L_and_N": "L and N", "both": "L and N", "+": "L"}
    return words.get(str(poles), str(poles)) if poles else UNKNOWN


def _leak(trip_ma: float | None) -> str:
    return "none" if trip_ma == 0 else figure(trip_ma, "mA")
