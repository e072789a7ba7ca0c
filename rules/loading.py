"""How much of what it may carry a conductor is asked to carry: shared words of 4.1 and 4.6.

A starter's seconds are left out. A windlass, winch or thruster counts unless its maker's table for
short times was followed, which only the owner can tell.
"""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from model.analysis.ampacity_range import AmpacityRange, ampacity_range
from model.analysis.leads import posts_of
from model.analysis.runs import is_dc_power
from model.analysis.served import served
from model.analysis.ways import series_from
from model.diagram import Conductor
from model.edits import changed
from model.survey import Survey
from rules.charging_output import outputs
from rules.profiles import Profile
from rules.wording import named

SHORT_TIME = frozenset({"windlass", "winch", "thruster"})


class Loading(Struct, frozen=True):
    """The largest current of a conductor that counts [A], and in which case; `asks` are fields
    that would have to be known for it to count.
    """

    current_a: float
    case: str
    asks: tuple[str, ...] = ()


def only_charges(survey: Survey, item: str) -> bool:
    """Say whether one side of a conductor is charging sources alone, and it is the first way from
    one of them: 1.11 and 1.13 judge it.
    """
    graph, posts = survey.graph, posts_of(survey.zones)
    first = graph.once("first ways from charging outputs", lambda: frozenset(
        wire for output in outputs(survey.diagram)
        for wire in series_from(graph, graph.number[output.terminal])[0]))
    if item not in first:
        return False
    edge = next(edge for edge in graph.edges_of[item] if is_dc_power(graph, edge))
    return any(served(graph, edge, node, posts).only_charging for node in (edge.a, edge.b))


def loadings(survey: Survey, item: str, above_a: float = 0.0) -> tuple[Loading, ...]:
    """Return the currents of a conductor over the duty cases above so much [A], largest first."""
    worst = survey.duty.conductors.get(item)
    if worst is None or _rounded(worst.current_a) <= above_a:
        return ()
    counting = survey.graph.once("cases that count", lambda: tuple(_counting(survey)))
    points = survey.duty.points
    found = [(-_rounded(points[case].conductors.get(item, 0.0)), place)
             for place, (case, _) in enumerate(counting)]
    return tuple(Loading(-current, *counting[place]) for current, place in sorted(found)
                 if -current > above_a)


def _rounded(current_a: float) -> float:
    """Return a current without the noise of the solver, so that it decides nothing. [A]"""
    return round(abs(current_a), 3)


def _counting(survey: Survey) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield the duty cases that count, with what would have to be known for it."""
    for case in survey.duty.cases:
        part = survey.diagram.components.get(_load_of(case))
        role = "" if part is None else str(part.parameters.get("role") or part.kind)
        if part is None or role not in SHORT_TIME | {"starter"}:
            yield case, ()
        elif role in SHORT_TIME and part.parameters.get("maker_table") is not True:
            table = part.parameters.get("maker_table")
            yield case, () if table is False else (f"{part.id}.maker_table",)


def _load_of(case: str) -> str:
    """Return the load whose duty case it is, "" for a case of all."""
    item, word, _ = case.partition(" running")
    return item if word else ""


def where_it_runs(wire: Conductor, survey: Survey, profile: Profile) -> AmpacityRange:
    """Return between which bounds a conductor may carry where it runs."""
    return survey.ampacity_range(wire, profile.ampacity_table)


def outside(wire: Conductor, survey: Survey, profile: Profile) -> AmpacityRange:
    """Return the same if none of it ran in an engine space."""
    dry = changed(wire, engine_space_m=0.0)
    return ampacity_range(dry, survey.diagram, profile.ampacity_table)


def case_words(survey: Survey, case: str) -> str:
    """Return a duty case as a person reads it."""
    item = _load_of(case)
    return case.replace(item, named(survey.diagram, [item]), 1) if item else case
