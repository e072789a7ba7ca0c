"""Names for switches and ways, read off the drawing: by what they kill, join or lead on."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from model.analysis.alternating import ac_sources, passes_ac
from model.analysis.banks import Bank, is_main_switch
from model.analysis.circuit_switches import in_use
from model.analysis.fed_by import fed_loads
from model.analysis.reach import reach
from model.analysis.starter import is_emergency_link
from model.analysis.unswitched import posts
from model.diagram import Component
from model.graph import TerminalGraph
from model.kinds import kind_of
from model.kinds.distribution import panel_ways
from model.survey import Survey
from rules.ordering import in_order
from rules.way_labels import label_of, loads_of_ways
from rules.wording import with_name

SPARE = "Spare"
WIRED = ("conductor", "join", "overcurrent")
SIDES = {"selector_switch": ("{id}.1", "{id}.2"), "emergency_link": ("{id}.a+", "{id}.b+"),
         "ac_transfer_switch": ("{id}.1L", "{id}.2L")}


def ways_named(survey: Survey, panel: Component) -> dict[str, str]:
    """Return for the ways of a panel without a label what they feed, those that are not wired as
    spare unless conductors are still being traced; a way that leads nowhere known is left out.
    """
    wired = {end.terminal for wire in survey.diagram.conductors.values() for end in wire.ends()
             if end.component == panel.id}
    traced = survey.diagram.boat.status != "as_found"
    loads, words = loads_of_ways(survey.graph, panel), {}
    for way in panel_ways(panel.parameters, panel.kind):
        item = str(way["id"])
        if way.get("label") or way.get("spare") is True:
            continue
        if loads[item]:
            words[item] = label_of(survey.diagram, loads[item])
        elif item not in wired and traced:
            words[item] = SPARE
    return words


def with_labels(panel: Component, words: dict[str, str]) -> tuple[dict[str, Any], ...]:
    """Return the ways of a panel with labels, and those that are spare marked so."""
    return tuple(
        {**way, "label": words[way["id"]], **({"spare": True} if words[way["id"]] == SPARE else {})}
        if way["id"] in words else dict(way)
        for way in panel_ways(panel.parameters, panel.kind))


def switch_named(survey: Survey, switch: Component) -> dict[str, str]:
    """Return the name of a switch and the meaning of its positions, as far as they are missing and
    the drawing tells; nothing when it does not tell all that is missing.
    """
    wanted: dict[str, str | None] = {}
    if not switch.name and not switch.parameters.get("kills"):
        wanted["name"] = _name(survey, switch)
    if kind_of(switch).field("position_names") is not None and not (
            switch.parameters.get("position_names")):
        wanted["position_names"] = _positions(survey, switch)
    told = {field: words for field, words in wanted.items() if words}
    return told if len(told) == len(wanted) else {}


def _name(survey: Survey, switch: Component) -> str | None:
    graph = survey.graph
    sides = _sides(survey, switch)
    if is_emergency_link(graph, switch.id):
        return f"Emergency link {' and '.join(sides)}" if sides else None
    if sides:
        return f"{kind_of(switch).title}: {' or '.join(sides)}"
    cut = {bank.id: _cut(graph, switch.id, bank.batteries) for bank in survey.banks}
    beside = [bank.id for bank in survey.banks if not _joined(graph, bank).isdisjoint(
        graph.nodes_of(switch.id))] or [bank for bank, loads in cut.items() if loads]
    if is_main_switch(graph, switch.id) and len(beside) == 1:
        return f"Main switch of {with_name(survey.diagram, beside[0])}"
    loads = frozenset().union(*cut.values())
    return label_of(survey.diagram, in_order(loads)) if loads else None


def _joined(graph: TerminalGraph, bank: Bank) -> set[int]:
    """Return what is joined to a bank with no contact between."""
    return reach(graph, posts(graph, bank), lambda edge, _: edge.role in WIRED)


def _cut(graph: TerminalGraph, switch: str, batteries: Iterable[str]) -> frozenset[str]:
    """Return the loads that batteries feed with all circuits in use and no more without a switch.
    """
    usual = {**in_use(graph), switch: "on"}
    return fed_loads(graph, batteries, usual) - fed_loads(
        graph, batteries, {**usual, switch: "off"})


def _positions(survey: Survey, switch: Component) -> str | None:
    sides = _sides(survey, switch)
    if not sides:
        return None
    both = "; B: both" if switch.kind == "selector_switch" else ""
    return f"1: {sides[0]}{both}; 2: {sides[1]}; 0: off"


def _sides(survey: Survey, switch: Component) -> tuple[str, ...]:
    """Return the one source at each side of a switch that has two, nothing unless both are known
    and not the same.
    """
    found = []
    for name in SIDES.get(switch.kind, ()):
        sources = _sources(survey, switch.id, name.format(id=switch.id))
        if len(sources) != 1:
            return ()
        found.append(with_name(survey.diagram, sources.pop()))
    return tuple(found) if len(set(found)) == len(found) else ()


def _sources(survey: Survey, switch: str, terminal: str) -> set[str]:
    """Return what feeds one side of a switch: sources of AC, or batteries by their main switches.
    """
    graph = survey.graph
    node = graph.number[terminal]
    if terminal.endswith("L"):
        behind = reach(graph, [node], lambda edge, at: passes_ac(edge, at) and edge.owner != switch)
        return {source.part.id for source in ac_sources(graph) if source.live in behind}
    behind = reach(graph, [node], lambda edge, _: edge.owner != switch and (
        edge.role in WIRED or edge.role == "contact" and is_main_switch(graph, edge.owner)))
    return {bank.id for bank in survey.banks if not behind.isdisjoint(posts(graph, bank))}
