"""What goes through a part over the duty cases: lasting, and while each short-time load runs."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from msgspec import Struct

from model.analysis.design_current import running, short_time_loads
from model.analysis.operating_point.answer import OperatingPoint

if TYPE_CHECKING:
    from model.survey import Survey

Measured = Callable[[OperatingPoint], float]


class Through(Struct, frozen=True):
    """A current [A], the duty case it flows in, and the short-time load that runs ("" for none)."""

    current_a: float
    case: str
    load: str = ""


def through(survey: Survey, measured: Measured) -> tuple[Through, tuple[Through, ...]]:
    """Return the largest lasting current, and the current while each short-time load runs."""
    points = survey.duty.points
    short = {running(item): item for item in short_time_loads(survey)}
    lasting = max((Through(_told(measured(point)), case) for case, point in points.items()
                   if case not in short), key=lambda t: t.current_a, default=Through(0.0, ""))
    brief = tuple(Through(_told(measured(points[case])), case, item)
                  for case, item in short.items() if case in points)
    return lasting, brief


def _told(current_a: float) -> float:
    """Return a current without the solver's last digits. [A]."""
    return round(current_a, 1)


def by_edges(survey: Survey, part: str, *roles: str) -> Measured:
    """Return what measures the largest current through a part's ways of these roles. [A]."""
    numbers = [e.index for e in survey.graph.edges_of.get(part, ()) if e.role in roles]
    return lambda point: max((abs(point.element_a.get(n, 0.0)) for n in numbers), default=0.0)


def by_sum(survey: Survey, part: str) -> Measured:
    """Return what measures all that flows into a part over its conductors, or out of it. [A]."""
    graph = survey.graph
    own = set(graph.nodes_of(part))
    ends = [(i, graph.edges[i].b == n) for n in own for i in graph.edges_at[n]
            if graph.edges[i].role == "conductor" and not (
                graph.edges[i].a in own and graph.edges[i].b in own)]

    def measured(point: OperatingPoint) -> float:
        flows = [point.element_a.get(i, 0.0) * (1 if inward else -1) for i, inward in ends]
        return max(sum(f for f in flows if f > 0), -sum(f for f in flows if f < 0))
    return measured
