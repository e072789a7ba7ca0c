"""Negatives that are drawn and lead to no battery: what has no way home, by its cause."""

from __future__ import annotations

from collections.abc import Iterator, Set
from dataclasses import dataclass
from typing import TYPE_CHECKING

from model.analysis.drawn_returns import is_drawn_system, without_return
from model.analysis.ground import homes, ways_home
from model.analysis.negatives import is_drawn, joined_home, negative_passes
from model.analysis.unfed import IN_LINE
from model.diagram import Component
from model.graph import TerminalGraph

if TYPE_CHECKING:
    from model.survey import Survey


MACHINES = ("alternator", "starter")  # by itself such a one is 7.12's


@dataclass(frozen=True, slots=True)
class Stranded:
    """Parts whose negatives hang together and lead to none of the batteries that feed them or that
    they charge, and where they end: at what stands in line and has nothing behind it, else at bars.
    """

    items: tuple[str, ...]
    ends: tuple[str, ...]


def no_way_home(survey: Survey) -> tuple[Stranded, ...]:
    """Return what has no way home, in systems whose returns are drawn.

    Nothing where the negative of no such battery is drawn yet, or ends at the battery: that has an
    owner of its own. What stands behind an isolated converter goes with the converter.
    """
    graph = survey.graph
    islands: dict[frozenset[int], list[str]] = {}
    for item in _lost(survey):
        island = frozenset(_ever_joined_home(graph, graph.number[f"{item}.-"]))
        islands.setdefault(island, []).append(item)
    nearest: dict[frozenset[int], list[str]] = {}
    for island in sorted(islands, key=len):
        home = next((known for known in nearest if known < island), island)
        nearest.setdefault(home, []).extend(islands[island])
    order = {item: place for place, item in enumerate(survey.diagram.components)}
    return tuple(Stranded(tuple(sorted(items, key=order.__getitem__)), _ends(survey, island))
                 for island, items in nearest.items())


def leads_home(graph: TerminalGraph, part: str) -> bool:
    """Say whether the negative of a part leads to a battery that feeds it or that it charges, in
    some position of every switch: a button or a relay may stand in it.
    """
    return not homes(graph, part).isdisjoint(
        _ever_joined_home(graph, graph.number[f"{part}.-"]))


def _ever_joined_home(graph: TerminalGraph, minus: int) -> Set[int]:
    return joined_home(graph, "negatives and earths past all", lambda edge, node: (
        edge.core == "E" or negative_passes(edge, node)), minus)


def _lost(survey: Survey) -> Iterator[str]:
    """Yield the parts without a way home that neither 4.8 nor their battery's negative explains."""
    graph, bare = survey.graph, without_return(survey)
    for item in ways_home(graph):
        if item in bare or leads_home(graph, item) or not _has_both(
                survey, survey.diagram.components[item]):
            continue
        posts = homes(graph, item)
        if any(is_drawn(graph, node) for node in posts) and not bare.intersection(
                graph.component_of[node] for node in posts):
            yield item


def _has_both(survey: Survey, part: Component) -> bool:
    """Say whether conductors end at the minus of a part and at its plus, in a system whose returns
    are drawn; of nothing that is in store or returns by its case.
    """
    graph = survey.graph
    plus = next((node for node in graph.nodes_of(part.id)
                 if graph.names[node].endswith("+") and is_drawn(graph, node)), None)
    return part.stored is not True and part.return_by != "case" and plus is not None and (
        is_drawn(graph, graph.number[f"{part.id}.-"]) and is_drawn_system(survey, plus))


def _ends(survey: Survey, island: frozenset[int]) -> tuple[str, ...]:
    graph = survey.graph
    roles = {graph.component_of[node]: graph.kinds[graph.component_of[node]].role
             for node in sorted(island)}
    loose = {graph.component_of[node] for node in island if not is_drawn(graph, node)}
    in_line = tuple(item for item, role in roles.items() if role in IN_LINE and item in loose)
    return in_line or tuple(item for item, role in roles.items() if role == "distribution")
