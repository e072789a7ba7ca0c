"""Boats whose papers are brought in order, for tests that look at other things."""

from __future__ import annotations

from model.diagram import Component, Diagram
from model.edits import changed
from model.frozen_map import FrozenMap
from model.kinds import kind_of


def papered(diagram: Diagram) -> Diagram:
    """Return a boat whose papers are in order: names, labels, places, spares."""
    parts = {item: _papered(part, diagram) for item, part in diagram.components.items()}
    wires = {item: changed(wire, label_printed=wire.label_printed or "both_ends")
             for item, wire in diagram.conductors.items()}
    fuses = [p.parameters for p in diagram.components.values() if p.kind == "fuse"]
    spares = tuple((str(f.get("class", "")), float(f["rated_a"]), 2)
                   for f in fuses if "rated_a" in f)
    return changed(diagram, components=FrozenMap(parts), conductors=FrozenMap(wires),
                   boat=changed(diagram.boat, spares=spares))


def _papered(part: Component, diagram: Diagram) -> Component:
    kind = kind_of(part)
    facts = dict(part.parameters)
    if "ways" in facts:
        facts["ways"] = tuple(
            {"label": _fed_by_way(diagram, f"{part.id}.{way['id']}"), **way}
            for way in facts["ways"])
    if kind.field("position_names") is not None:
        facts["position_names"] = "1: first bank; 2: second; B: both; 0: off"
    name = kind.title if kind.role == "switch" else ""
    return changed(part, parameters=FrozenMap(facts), name=part.name or name,
                   position_note=part.position_note or "aft locker")


def _fed_by_way(diagram: Diagram, way: str) -> str:
    """Return the kinds of what a way feeds, or that it is a spare."""
    fed = (diagram.components[end.component] for wire in diagram.conductors.values()
           for end in wire.ends()
           if f"{wire.start.component}.{wire.start.terminal}" == way and end is wire.finish)
    return " ".join(kind_of(part).title for part in fed) or "spare"


def aged(diagram: Diagram) -> Diagram:
    """Return a boat whose batteries have sort, capacity and age written down, and which is left
    alone for a week at most.
    """
    boat = changed(diagram.boat, weeks_idle=diagram.boat.weeks_idle or 1,
                   date=diagram.boat.date or "2026-05-01")
    return changed(diagram, boat=boat, components=FrozenMap({
        item: changed(part, installed=part.installed or "2024-05", parameters=FrozenMap(
            {"chemistry": "agm", "capacity_ah": 100, **part.parameters}))
        if part.kind == "battery_bank" else part for item, part in diagram.components.items()}))
