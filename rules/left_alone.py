"""A boat that is left alone: what charges its banks then, and what they give."""

from __future__ import annotations

from collections.abc import Iterable

from model.analysis.bank_strings import over_strings
from model.analysis.reach import live_passes, reach, source_nodes
from model.analysis.unswitched import mains_open
from model.diagram import Mode
from model.graph import Edge
from model.kinds.storage import LITHIUM
from model.survey import Survey
from rules.profiles import Profile


def is_charged(batteries: Iterable[str], survey: Survey) -> bool:
    """Say whether sun or shore charges batteries while nobody is aboard.

    The way there stands with the main switches open, but those that a mode of a boat left alone
    has otherwise.
    """
    posts = {survey.graph.number[f"{item}.+"] for item in batteries}
    away = [mode for mode in survey.diagram.modes.values()
            if mode.purpose in ("left_unattended", "laid_up")]
    return any(posts & _charged(survey, mode) for mode in (away or (None,)))


def _charged(survey: Survey, mode: Mode | None) -> set[int]:
    """Return the terminals that give while the boat is left in a mode, None when none is drawn."""
    graph = survey.graph
    passes = live_passes(graph, {**mains_open(graph), **(mode.positions if mode else {})})

    def charges(edge: Edge, node: int) -> bool:
        return passes(edge, node) and (edge.role != "converter" or _works_alone(survey, edge))

    sources = [part.id for part in survey.diagram.components.values() if part.kind == "solar_array"]
    sources += mode.shore_connected if mode is not None else ()
    return reach(graph, [node for item in sources for node in source_nodes(graph, item)], charges)


def _works_alone(survey: Survey, converter: Edge) -> bool:
    """Say whether a converter gives DC without an engine that runs, or passes AC on."""
    part = survey.diagram.components[converter.owner]
    to_dc = survey.graph.names[converter.b].endswith("+")
    return part.parameters.get("run_signal") != "wired" and (
        to_dc or part.kind == "isolation_transformer")


def unsized(batteries: Iterable[str], survey: Survey) -> tuple[str, ...]:
    """Return the fields without which it cannot be told what batteries give."""
    parts = [survey.diagram.components[item] for item in batteries]
    return tuple(f"{part.id}.{name}" for part in parts for name in ("capacity_ah", "chemistry")
                 if name not in part.parameters)


def usable_ah(batteries: Iterable[str], survey: Survey, profile: Profile) -> float:
    """Return what batteries give before they are harmed, in series and side by side. [Ah]."""
    each = {item: _usable_ah(survey, item, profile) for item in batteries}
    return round(over_strings(survey.graph, each, each), 1)


def _usable_ah(survey: Survey, battery: str, profile: Profile) -> float:
    facts = survey.diagram.components[battery].parameters
    share = "usable_lithium_ratio" if facts["chemistry"] in LITHIUM else "usable_lead_ratio"
    return float(facts["capacity_ah"] * profile.value(share))


def capacity_ah(batteries: Iterable[str], survey: Survey) -> float:
    """Return the capacity of batteries, in series and side by side. [Ah]."""
    each = {item: survey.diagram.components[item].parameters["capacity_ah"] for item in batteries}
    return over_strings(survey.graph, each, each)
