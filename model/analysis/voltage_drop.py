"""Voltage drop of loads and panels: from the post that feeds them, out and back, as solved.

The drop is the difference of solved volts; which conductors it falls along is found by following
the current upstream from the plus, and from the minus back. A short-time load is judged while it
runs, all else under continuous loads and in usual modes that a battery feeds.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, NamedTuple

from model.analysis.design_current import CHARGING, running, short_time_loads
from model.analysis.operating_point.answer import OperatingPoint
from model.analysis.operating_point.returns import is_bare
from model.graph import Edge

if TYPE_CHECKING:
    from model.survey import Survey

PANELS = ("panel", "fuse_block")
DRAWS_NOTHING_KNOWN = ("monitor", "box", "inverter", "inverter_charger")
CROSSING = ("load", "source", "converter")
LEAST_A = 1e-6  # less than this is no current


@dataclass(frozen=True, slots=True)
class Drop:
    """The drop of a load or panel, out and back, to a millivolt [V], in its worst case, with its
    current [A].

    `shares` are the conductors it falls along [V]; the return that is implied counts with its
    feed. `missing` are fields without which the drop is only known to be as much as this.
    """

    item: str
    source: str
    case: str
    current_a: float
    drop_v: float
    nominal_v: float
    volts: float
    shares: Mapping[str, float]
    missing: tuple[str, ...] = ()

    @property
    def culprit(self) -> str:
        """Return the conductor that causes most of it, the first of equal ones; "" for none."""
        return max(self.shares, key=lambda item: self.shares[item], default="")

    @property
    def percent(self) -> float:
        """Return the drop in percent of the nominal volts, as it is told: to a hundredth."""
        return round(100 * self.drop_v / self.nominal_v, 2)


def drops(survey: Survey) -> tuple[Drop, ...]:
    """Return the worst drop of each load and panel that is fed."""
    short = set(short_time_loads(survey))
    paths = {case: _Path(survey, case, point) for case, point in survey.duty.points.items()}
    found = []
    for item, plus, minus in _consumers(survey):
        every = [fall for case in _cases(survey, item, short)
                 if (fall := paths[case].fall(item, plus, minus)) is not None]
        if every:
            found.append(max(every, key=lambda fall: fall.drop_v).told())
    return tuple(found)


def drop_in(
    survey: Survey, item: str, case: str, point: OperatingPoint, spent: frozenset[str]
) -> Drop | None:
    """Return the drop of a load at an operating point of a case, in which some batteries are spent;
    None when nothing feeds it."""
    plus, minus = (survey.graph.number[f"{item}.{pole}"] for pole in "+-")
    fall = _Path(survey, case, point, spent).fall(item, plus, minus)
    return None if fall is None else fall.told()


def _consumers(survey: Survey) -> Iterator[tuple[str, int, int]]:
    """Yield each panel and load with its plus and minus terminals."""
    graph = survey.graph
    for component in survey.diagram.components.values():
        feed = "in+" if component.kind in PANELS else "+"
        plus = graph.number.get(f"{component.id}.{feed}")
        minus = graph.number.get(f"{component.id}.-")
        is_fed = component.kind in PANELS or any(
            edge.role == "load" for edge in graph.edges_of.get(component.id, ()))
        if is_fed and plus is not None and minus is not None:
            yield component.id, plus, minus


def _cases(survey: Survey, item: str, short: set[str]) -> Iterator[str]:
    """Yield the cases in which a consumer counts: all but charging and others' short runs."""
    runs = {running(load) for load in short}
    for case in survey.duty.cases:
        own = case == running(item) or case.startswith("mode ")
        if own or (item not in short and case not in runs and case != CHARGING):
            yield case


class _Fall(NamedTuple):
    """The drop of a consumer in one case, and the way it falls along: all but the telling."""

    path: _Path
    item: str
    source: str
    drop_v: float
    nominal_v: float
    volts: float
    out: list[Edge]
    back: list[Edge]
    implied: list[str]

    def told(self) -> Drop:
        """Return the drop with its current, its shares and what is not known."""
        return self.path.told(self)


class _Path:
    """The way of the current in one duty case, at its operating point."""

    def __init__(
        self, survey: Survey, case: str, point: OperatingPoint,
        spent: frozenset[str] = frozenset(),
    ) -> None:
        self._survey = survey
        self._graph = survey.graph
        self._case = case
        self._point = point
        self._spent = spent
        self._element_a = self._point.element_a
        self._known: tuple[dict[int, list[tuple[int, Edge]]], ...] = ({}, {})
        self._terminal_v = list(self._point.terminals.values())

    def fall(self, item: str, plus: int, minus: int) -> _Fall | None:
        """Return the drop of a consumer in this case; None when nothing feeds it or nothing comes
        back from it.
        """
        part = self._point.parts.get(item)
        if part is not None and part.state == "no supply" and part.current_a < LEAST_A:
            return None
        edges, top = self._followed(plus, upstream=True)
        source = self._graph.component_of[top]
        if not edges or top not in self._sources or self._is_mode_charged(source):
            return None
        nominal_v = self._nominal_v(item, plus, minus)
        if not nominal_v:  # wired so that nobody can say of what the drop is a part
            return None
        back, implied, bottom = self._return(item, minus, edges, source)
        out_v = self._volts(top) - self._volts(plus)
        back_v = self._volts(minus) - (0.0 if bottom is None else self._volts(bottom))
        return _Fall(
            self, item, source, round(max(out_v + back_v, 0.0), 3), nominal_v,
            round(self._volts(plus) - self._volts(minus), 3), edges, back, implied)

    def told(self, fall: _Fall) -> Drop:
        """Return a drop in this case with all that is told of it."""
        current_a = self._current_a(fall.item, fall.out[0])
        field = f"{fall.item}.{self._current_field(fall.item)}"
        shares = self._shares(fall.out, fall.back, fall.implied)
        return Drop(
            fall.item, fall.source, self._case, round(current_a or 0.0, 3), fall.drop_v,
            fall.nominal_v, fall.volts, shares,
            (*(() if current_a is not None else (field,)), *self._missing(shares)))

    def _current_a(self, item: str, first: Edge) -> float | None:
        """Return what a load draws, or what enters a panel; None when nobody stated it. [A]"""
        part = self._point.parts.get(item)
        if part is not None:
            return part.current_a
        kind = self._survey.diagram.components[item].kind
        if kind in PANELS or kind in DRAWS_NOTHING_KNOWN:
            return abs(self._point.element_a.get(first.index, 0.0))
        return None

    def _current_field(self, item: str) -> str:
        is_starter = self._survey.diagram.components[item].kind == "starter"
        return "cranking_a" if is_starter else "current_a"

    def _followed(self, start: int, upstream: bool) -> tuple[list[Edge], int]:
        """Return the edges along the largest current from a terminal, and where it ends."""
        found: list[Edge] = []
        node, seen = start, {start}
        ends = self._sources if upstream else ()
        known = self._known[upstream]
        while node not in ends:
            for after, edge in known.get(node) or self._steps(node, upstream):
                if after not in seen:
                    found.append(edge)
                    seen.add(after)
                    node = after
                    break
            else:
                if not (upstream and found):
                    break
                node = found.pop().other(node)  # no source that way, where nothing flows
        return found, node

    def _steps(self, node: int, upstream: bool) -> list[tuple[int, Edge]]:
        """Return the ways on from a terminal, that of the largest current first; of equal ones that
        drawn first, not the one that the solver's last digits favour.
        """
        ways = list(self._ways(node, upstream))
        if len(ways) > 1:
            ways.sort(key=lambda way: -round(way[0], 3))
        found = self._known[upstream][node] = [(after, edge) for _, after, edge in ways]
        return found

    def _ways(self, node: int, upstream: bool) -> Iterator[tuple[float, int, Edge]]:
        """Yield the ways on with their currents. [A]."""
        for after, edge in self._graph.neighbours[node]:
            current = self._element_a.get(edge.index)
            if current is None or edge.role in CROSSING:
                continue
            along = current if (edge.b == node) is upstream else -current
            # A load whose current is not known carries none, and its way is found all the same.
            if along > -LEAST_A:
                yield along, after, edge

    @cached_property
    def _sources(self) -> frozenset[int]:
        """Return the plus of every battery that is not spent, and of what gives current here."""
        found = set()
        for edge in self._graph.edges:
            gives = edge.role == "converter" and edge.owner in self._point.parts
            if (edge.role == "source" and edge.owner not in self._spent) or gives:
                found.add(edge.b)
        for item, part in self._point.parts.items():
            source = self._graph.kinds[item].source
            if source is not None and part.current_a > LEAST_A:
                found.add(self._graph.number[f"{item}.{source.terminals[0]}"])
        return frozenset(found)

    def _is_mode_charged(self, source: str) -> bool:
        """Say whether a charging source feeds it: that is no drop from a bank."""
        kind = self._graph.kinds[source]
        return kind.role == "source" or (
            kind.role == "converter" and kind.slug != "dc_dc_converter")

    def _return(
        self, item: str, minus: int, out: list[Edge], source: str
    ) -> tuple[list[Edge], list[str], int | None]:
        """Return the drawn edges back, the conductors whose return is implied, and the end.

        The end is None where the implied return ends at the datum, which has no volts.
        """
        if not is_bare(self._graph, minus):
            back, bottom = self._followed(minus, upstream=False)
            return back, [], bottom
        implied: list[str] = []
        for edge in out:
            if edge.role != "conductor":
                continue
            implied.append(edge.owner)
            feeder = self._upstream_part(edge)
            own = self._graph.number.get(f"{feeder}.-")
            if own is not None and feeder != source and not is_bare(self._graph, own):
                back, bottom = self._followed(own, upstream=False)
                return back, implied, bottom
        own = self._graph.number.get(f"{source}.-")
        ends_here = own is not None and self._survey.potentials[own].side == "-"
        return [], implied, own if ends_here else None

    def _upstream_part(self, edge: Edge) -> str:
        current = self._point.element_a.get(edge.index, 0.0)
        higher = edge.a if current >= 0 else edge.b
        return self._graph.component_of[higher]

    def _shares(
        self, out: list[Edge], back: list[Edge], implied: list[str]
    ) -> dict[str, float]:
        shares: dict[str, float] = {}
        for edge in (*out, *back):
            if edge.role == "conductor":
                own_v = abs(self._volts(edge.a) - self._volts(edge.b))
                wire = self._survey.diagram.conductors[edge.owner]
                if edge.owner in implied and wire.length_m:
                    returning = wire.return_length_m
                    own_v *= 2 if returning is None else 1 + returning / wire.length_m
                shares[edge.owner] = shares.get(edge.owner, 0.0) + own_v
        return {wire: round(share_v, 6) for wire, share_v in shares.items()}

    def _missing(self, shares: Mapping[str, float]) -> tuple[str, ...]:
        wires = [self._survey.diagram.conductors[item] for item in shares]
        return (*(f"{wire.id}.size" for wire in wires if wire.size is None),
                *(f"{wire.id}.length_m" for wire in wires if wire.length_m is None))

    def _nominal_v(self, item: str, plus: int, minus: int) -> float:
        """Return the nominal volts at a consumer: by the batteries, else its own. [V]."""
        high = self._survey.potentials[plus].nominal_v
        low = self._survey.potentials[minus].nominal_v or 0.0
        own = self._survey.diagram.components[item].parameters.get("nominal_v")
        return abs(high - low) if high else float(own or 12.0)

    def _volts(self, node: int) -> float:
        return self._terminal_v[node]
