"""Whether two batteries share a negative, drawn or implied.

A minus to which nothing is drawn is at the datum where returns are implied; where they are drawn
it is a missing conductor and shares nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.analysis.negatives import is_drawn, negative_reach

if TYPE_CHECKING:
    from model.survey import Survey


def share_negative(survey: Survey, one: str, other: str) -> bool:
    """Say whether two batteries' minus posts are joined."""
    return bool(_home(survey, one) & _home(survey, other))


def _home(survey: Survey, battery: str) -> set[int]:
    """Return the terminals a battery's minus is joined to, the datum's too when it is implied."""
    graph = survey.graph
    minus = graph.number[f"{battery}.-"]
    joined = negative_reach(graph, [minus])
    if is_drawn(graph, minus) or _is_drawn_system(survey, battery):
        return joined
    return joined | negative_reach(graph, _datum(survey))


def _is_drawn_system(survey: Survey, battery: str) -> bool:
    volts = survey.potentials[survey.graph.number[f"{battery}.+"]].nominal_v
    systems = list(survey.diagram.systems.values())
    own = [s for s in systems if s.nominal_v == volts] or systems
    return bool(own) and all(system.returns == "drawn" for system in own)


def _datum(survey: Survey) -> list[int]:
    """Return the terminals at which implied returns end: those named, else the first minus."""
    graph = survey.graph
    named = [graph.number[s.negative_datum] for s in survey.diagram.systems.values()
             if s.negative_datum in graph.number]
    batteries = sorted(c.id for c in survey.diagram.components.values()
                       if c.kind == "battery_bank")
    return named or [graph.number[f"{battery}.-"] for battery in batteries[:1]]
