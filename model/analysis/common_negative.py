"""Whether two batteries share a negative, drawn or implied.

A minus to which nothing is drawn is joined to all others where returns are implied; where they are
drawn it is a missing conductor and shares nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.analysis.negatives import is_drawn, negative_reach
from model.analysis.systems import systems_of

if TYPE_CHECKING:
    from model.survey import Survey


def share_negative(survey: Survey, one: str, other: str) -> bool:
    """Say whether the minus posts of two batteries are joined; of one in a series, the lowest's."""
    graph = survey.graph
    here, there = (graph.number[f"{_foot(survey, battery)}.-"] for battery in (one, other))
    if there in negative_reach(graph, [here]):
        return True
    return any(not is_drawn(graph, node) and not _is_drawn_system(survey, battery)
               for node, battery in ((here, one), (there, other)))


def _foot(survey: Survey, battery: str) -> str:
    """Return the battery of its bank at the foot of the series: the one with the bank's minus."""
    bank = next(bank for bank in survey.banks if battery in bank.batteries)
    feet = [item for item in bank.batteries
            if survey.potentials[survey.graph.number[f"{item}.-"]].side == "-"]
    return battery if battery in feet or not feet else feet[0]


def _is_drawn_system(survey: Survey, battery: str) -> bool:
    volts = survey.potentials[survey.graph.number[f"{battery}.+"]].nominal_v
    systems = list(survey.diagram.systems.values())
    own = systems_of(survey.diagram, [volts]) or systems
    return bool(own) and all(system.returns == "drawn" for system in own)

