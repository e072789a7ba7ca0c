"""Two sources of AC kept apart: breakers locked against each other, a change-over that breaks
before it makes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial

from model.analysis.alternating import joined_way
from model.diagram import Component
from model.edits import apply as applied
from model.kinds import kind_of
from model.survey import Survey
from rules.fixing import together, with_fields
from rules.rule import Finding, Fix
from rules.wording import named


def kept_apart(survey: Survey, finding: Finding, live: Mapping[str, int]) -> Iterator[Fix]:
    """Offer for a finding on two sources, and the switches that overlap, what keeps them apart;
    `live` are the live terminals of sources.
    """
    one, other, *switches = finding.where
    if finding.message_id == "overlap":
        yield breaking_first(survey, switches)
    else:
        yield from locked(survey, live[one], live[other])


def locked(survey: Survey, one: int, other: int) -> Iterator[Fix]:
    """Offer to lock the breaker nearest to each of two live terminals against the other, where that
    parts them.

    Nothing where a way has none that can be locked, or is locked already, or they are known to
    stand in two places: a lock is a bar from handle to handle.
    """
    diagram, graph = survey.diagram, survey.graph
    breakers = [diagram.components[edge.owner] for edge in joined_way(graph, one, other) or ()
                if edge.role == "overcurrent" and edge.item == edge.owner]
    if len(breakers) < 2 or not _can_be_locked(breakers[0], breakers[-1]):
        return
    pair = [breakers[0].id, breakers[-1].id]
    title = f"Lock {named(diagram, pair)} against each other"
    edit = with_fields(diagram, title, pair[0], interlock_with=pair[1])
    after = Survey(applied(diagram, edit)).graph
    if joined_way(after, after.number[graph.names[one]], after.number[graph.names[other]]) is None:
        yield Fix(title, "choice", edit)


def _can_be_locked(one: Component, other: Component) -> bool:
    free = all(kind_of(part).field("interlock_with") is not None
               and "interlock_with" not in part.parameters for part in (one, other))
    return free and (one.place is None or other.place is None or one.place == other.place)


def breaking_first(survey: Survey, switches: Sequence[str]) -> Fix:
    """Return the fix that fits rotary change-overs, which break before they make."""
    what = "a rotary change-over" if len(switches) == 1 else "rotary change-overs"
    title = f"Fit {what} as {named(survey.diagram, switches)}"
    return Fix(title, "choice", together(survey.diagram, title, *(
        partial(with_fields, title=title, item=item, type="rotary", break_before_make=True)
        for item in switches)))
