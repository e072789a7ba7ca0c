"""A float switch and a hand switch that stood in a row, led to the pump side by side: each runs it
whatever the other says."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from model.analysis.circuit_switches import hand_switches
from model.graph import Edge
from model.survey import Survey
from rules.fixing import connected, moved, together, with_fields
from rules.rewiring import is_single, terminal_name
from rules.rule import Fix
from rules.wording import named


def beside_float(survey: Survey, item: str) -> Iterator[Fix]:
    """Offer to lead a float switch and the hand switch next to it to the pump side by side.

    Nothing where more than the float hangs on the hand switch, or where a mode says how it stands:
    on would then mean that the pump runs.
    """
    graph = survey.graph
    own = next(edge for edge in graph.edges_of[item] if edge.role == "contact")
    for near, beyond in ((own.a, own.b), (own.b, own.a)):
        for wire, at in _conductors(survey, near):
            contact = next((edge for i in graph.edges_at[at] if (
                edge := graph.edges[i]).handle in hand_switches(graph)), None)
            if contact is None or len(_conductors(survey, at)) != 1 or _is_set(survey, contact):
                continue
            yield _led_past(survey, item, wire, contact, at, beyond)


def _conductors(survey: Survey, node: int) -> list[tuple[str, int]]:
    """Return the single positive conductors at a terminal, each with its far terminal."""
    edges = (survey.graph.edges[i] for i in survey.graph.edges_at[node])
    return [(edge.owner, edge.other(node)) for edge in edges if edge.role == "conductor"
            and is_single(survey.diagram.conductors[edge.owner])]


def _is_set(survey: Survey, contact: Edge) -> bool:
    return any(contact.handle in mode.positions for mode in survey.diagram.modes.values())


def _led_past(
    survey: Survey, item: str, wire: str, contact: Edge, at: int, beyond: int
) -> Fix:
    graph, diagram, switch = survey.graph, survey.diagram, contact.owner
    old = diagram.conductors[wire]
    behind, before = terminal_name(graph, at), terminal_name(graph, contact.other(at))
    title = f"Lead {named(diagram, [item, switch])} to the pump side by side"
    fields = {name: getattr(old, name) for name in (
        "cores", "size", "length_m", "insulation_c", "colour", "engine_space_m", "sheath")}
    return Fix(title, "choice", together(
        diagram, title,
        partial(moved, title=title, conductor=wire, from_=behind, to=before),
        partial(connected, title=title, from_=behind, to=terminal_name(graph, beyond), **fields),
        partial(with_fields, title=title, item=switch, normal="open")))
