"""What it checks.
Fuses, breakers, switches and relays that stand in a line: whether a conductor is drawn at both
sides of each.

Why it matters.
What ends at one side of a fuse goes on aboard, or was taken out and left live. Whoever isolates a
circuit by the drawing, or looks for a fault, trusts what is not there.

Fails when.
Most loads of the drawing are fed, and of a pole of such a part one side is drawn and the other not.

Passes when.
Both sides are drawn, or none.

Limits.
Ways of panels and fuse blocks, and positions of selectors, may stay free. Where the missing
conductor leaves something without feed, return or use, that is named instead: by 4.8, 4.25, 4.26 or
4.27.
"""

from __future__ import annotations

from collections.abc import Iterator

from model.analysis.drawn_returns import without_return
from model.analysis.negatives import is_drawn
from model.analysis.unfed import idle_sources, is_mostly_fed, unfed
from model.diagram import Component
from model.survey import Survey
from rules.ordering import in_order
from rules.profiles import Profile
from rules.rule import Answer, Fault, Rule
from rules.tracing import untraced
from rules.wording import named


def _subjects(survey: Survey) -> Iterator[tuple[str, ...]]:
    """Yield the parts of which one side is open, together, unless its cause is named elsewhere."""
    graph = survey.graph
    named_elsewhere = (unfed(graph) or idle_sources(graph) or survey.no_way_home
                       or without_return(survey))
    loose = tuple(in_order(part.id for part in survey.diagram.components.values()
                           if part.stored is not True and _has_open_side(part, survey)))
    if loose and not named_elsewhere and is_mostly_fed(graph) and not untraced(survey.diagram):
        yield loose


def _has_open_side(part: Component, survey: Survey) -> bool:
    graph = survey.graph
    return {"a", "b"} <= {port.id for port in graph.ports[part.id]} and any(
        is_drawn(graph, edge.a) != is_drawn(graph, edge.b)
        for edge in graph.edges_of.get(part.id, ()))


RULE = Rule(
    slug="one_side_open",
    number="4.28",
    title="Fuse or switch with nothing at one side",
    topic="conductors",
    severity="note",
    looks_at="the fuses, breakers and switches of which one side is open, together",
    subjects=_subjects,
    messages={"open": "At one side of {items} nothing is drawn."},
    remedy="Draw the conductor that is missing; what was taken out of use is disconnected at both "
           "sides aboard.",
    sources=("common_practice",),
    quiet={
        "stored": "it is marked as stored",
        "half_drawn": "most loads are not fed yet either",
        "tracing": "conductors are still being traced",
        "elsewhere": "what the conductor would join is named by 4.8, 4.25, 4.26 or 4.27",
    },
)


def check(loose: tuple[str, ...], survey: Survey, profile: Profile) -> Answer:
    """Name the parts."""
    return Fault("open", loose, {}, {"items": named(survey.diagram, loose)})
