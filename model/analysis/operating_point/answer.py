"""From arrays back to ids: volts, amperes, drops, what runs, and what is wrong."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from operator import itemgetter
from typing import TYPE_CHECKING, Any, NamedTuple, TypeGuard

from msgspec import Struct

from model.analysis.operating_point.automatic import Automatic
from model.analysis.operating_point.build import Built, build
from model.analysis.operating_point.joined import find_joined
from model.analysis.operating_point.network import OPEN_S
from model.analysis.operating_point.state import Problem, State
from model.graph import TerminalGraph

if TYPE_CHECKING:
    from model.analysis.operating_point.solver import Solution

MOST_ROUNDS = 12
NO_SUPPLY_V = 0.5  # less than this across a load is no supply


class PartState(Struct, frozen=True):
    """What a part does: current [A], power [W], and a word."""

    current_a: float
    power_w: float
    state: str


@dataclass(frozen=True, slots=True)
class OperatingPoint:
    """The solved network by ids. Volts against the datum; a positive current runs from start to
    finish of a conductor, out of a source, into a load. One that did not settle has no currents:
    none is told that does not balance."""

    terminals: Mapping[str, float]
    conductors: Mapping[str, float]
    drops_v: Mapping[str, float]
    parts: Mapping[str, PartState]
    problems: tuple[Problem, ...]
    settled: bool
    residual_a: float = 0.0
    element_a: Mapping[int, float] = field(default_factory=dict)
    fault_v: float = 0.0
    solution: Solution | None = field(default=None, compare=False, repr=False)

    @property
    def balance_w(self) -> float:
        """Return what is given less what is taken, all elements together: zero in a solution. [W].
        """
        if self.solution is None:
            return 0.0
        volts, stamp = self.solution.volts, self.solution.elements.stamp(self.solution.volts)
        leaks_w = OPEN_S * float((volts**2).sum())  # the solver holds every node by next to nothing
        return leaks_w + float(sum(float((volts[node] * current).sum()) for node, current in zip(
            stamp.nodes, stamp.currents, strict=True)))


class _Start(NamedTuple):
    """A solution to begin a search with; `names` are those of its first nodes, None where they are
    the nodes of the network that is being solved.
    """

    solution: Solution
    names: list[str] | None

    def volts(self, graph: TerminalGraph, built: Built) -> Any:
        """Return the volts to start from: those of the same nodes, or of terminals of a name."""
        if self.names is None or self.names == graph.names:
            return self.solution.volts
        own, count = built.network.start_v, len(self.names)
        if graph.names[:count] == self.names:  # parts were added: each has what it is joined to
            known = self.solution.volts[:count].tolist()
            return [*known, *(
                next((known[at] for at, edge in graph.neighbours[node]
                      if at < count and edge.role == "conductor"), own[node])
                for node in range(count, len(graph.names))), *own[len(graph.names):]]
        by_name = dict(zip(self.names, self.solution.volts.tolist(), strict=False))
        named = [by_name.get(name, volts) for name, volts in zip(graph.names, own, strict=False)]
        return named + own[len(named):]


class Round(NamedTuple):
    """A network as it is built for a state at first, and its solution if that is known."""

    built: Built
    solution: Solution | None = None


def first_rounds(
    graph: TerminalGraph, states: Sequence[State], start_v: list[float],
    near: Sequence[OperatingPoint | None],
) -> list[Round]:
    """Return the first round of states, each with an answer near to it if there is one: those that
    are near are solved together, which takes less than one by one.
    """
    from model.analysis.operating_point.solver import solve_together

    rounds, asked = [], []
    for place, (state, point) in enumerate(zip(states, near, strict=True)):
        state.automatic = dict(Automatic(graph, state).on)
        built = build(graph, state, start_v)
        rounds.append(Round(built, _of_same(built, [point])))
        if rounds[-1].solution is None and point is not None and _is_start(point.solution):
            volts = _Start(point.solution, list(point.terminals)).volts(graph, built)
            if len(volts) == built.network.nodes:
                asked.append((place, volts))
    solved = solve_together([rounds[place].built.network for place, _ in asked],
                            [volts for _, volts in asked]) if len(asked) > 1 else []
    for (place, _), solution in zip(asked, solved, strict=False):
        rounds[place] = Round(rounds[place].built, solution)
    return rounds


def operating_point(
    graph: TerminalGraph, state: State, start_v: list[float], *near: OperatingPoint | None,
    first: Round | None = None,
) -> OperatingPoint:
    """Return the operating point of a diagram in a state.

    Relays and chargers that volts decide are settled round by round; when they do not come to
    rest the answer says because of what, and is the one of the circle with most at work. `near` are
    answers of states much like it, from which few steps lead here, none where the network is the
    same; unless the volts had collapsed: then this state's own need not. `first` is the first round
    where that is known.
    """
    from model.analysis.operating_point.solver import solve_near

    automatic = Automatic(graph, state)
    seen: list[dict[str, bool]] = []
    rounds: list[tuple[int, Built, Solution]] = []
    starts = [_Start(point.solution, list(point.terminals)) for point in near
              if point is not None and _is_start(point.solution)]
    while True:
        state.automatic = dict(automatic.on)
        built, solution = first or Round(build(graph, state, start_v))
        first = None
        solution = solution or _of_same(built, near)
        if solution is None:
            solution = solve_near(built.network, (start.volts(graph, built) for start in starts))
        if _is_start(solution) and all(start.solution is not solution for start in starts):
            starts.insert(0, _Start(solution, None))
        seen.append(dict(automatic.on))
        rounds.append((sum(automatic.on.values()), built, solution))
        changed = automatic.follow(solution.volts)
        if not changed:
            break
        if automatic.on in seen or len(seen) > MOST_ROUNDS:
            circle = rounds[seen.index(automatic.on) if automatic.on in seen else 0:]
            _, built, solution = max(circle, key=itemgetter(0))
            names = ", ".join(sorted(changed))
            built.problem("unsettled", f"did not settle because of {names}", *sorted(changed))
            break
    if not solution.settled:
        built.problem("unsettled", "did not settle: the loads ask for more than can be given")
    return _answer(graph, built, solution)


def _of_same(built: Built, points: Iterable[OperatingPoint | None]) -> Solution | None:
    """Return the solution of the same network among answers, however it was found."""
    return next((point.solution for point in points if point is not None
                 and point.solution is not None
                 and point.solution.elements.network == built.network), None)


def _is_start(solution: Solution | None) -> TypeGuard[Solution]:
    """Say whether a search can begin with a solution: it settled, and no volts collapsed."""
    return solution is not None and solution.settled and not solution.collapsed


def _answer(graph: TerminalGraph, built: Built, solution: Solution) -> OperatingPoint:
    volts, elements = solution.volts, solution.elements
    terminals = dict(zip(graph.names, _against_datum(graph, volts, solution.island),
                         strict=False))
    if not solution.settled:
        return OperatingPoint(terminals, {}, {}, {}, tuple(built.problems), solution.settled,
                              solution.residual_a, solution=solution)
    currents = solution.currents
    listed = {sort: found.tolist() for sort, found in currents.items()}
    element_a = {number: listed[sort][place]
                 for number, (sort, place) in built.edge_element.items()}
    conductors, drops = _conductors(graph, element_a, volts.tolist())
    parts = _parts(graph, built, currents, volts, elements)
    if built.fault is None:
        find_joined(graph, built, currents["batteries"])
    return OperatingPoint(
        terminals, conductors, drops, parts, tuple(built.problems), solution.settled,
        solution.residual_a, element_a, _fault_v(built, volts), solution,
    )


def _fault_v(built: Built, volts: Any) -> float:
    """Return the volts left across the fault, if there is one."""
    if built.fault is None:
        return 0.0
    r = built.network.resistors
    return float(volts[r.a[built.fault]] - volts[r.b[built.fault]])


def _against_datum(graph: TerminalGraph, volts: Any, island: Any) -> list[float]:
    """Return the volts of each terminal against its island's datum, if it has one."""
    datum_v = volts * 0.0
    for node in reversed(graph.of_wiring("datum nodes", lambda: tuple(_datum_nodes(graph)))):
        datum_v[island[node]] = volts[node]
    against: list[float] = (volts - datum_v[island])[:len(graph.names)].tolist()
    return against


def _datum_nodes(graph: TerminalGraph) -> Iterator[int]:
    """Yield the terminals that are the datum of what they are joined to, the first ones first."""
    names = [system.negative_datum or "" for system in graph.diagram.systems.values()]
    names += [f"{component.id}.-" for component in graph.diagram.components.values()
              if component.kind == "battery_bank"]
    yield from (graph.number[name] for name in names if name in graph.number)


def _conductors(
    graph: TerminalGraph, element_a: Mapping[int, float], volts: list[float]
) -> tuple[dict[str, float], dict[str, float]]:
    amperes: dict[str, float] = {}
    drops: dict[str, float] = {}
    for edge in graph.once("cores", lambda: [e for e in graph.edges if e.role == "conductor"]):
        current = element_a.get(edge.index)
        if current is None:
            continue
        if edge.owner not in amperes or edge.core != "-":
            amperes[edge.owner] = current
            drops[edge.owner] = abs(volts[edge.a] - volts[edge.b])
    return amperes, drops


def _parts(
    graph: TerminalGraph, built: Built, currents: Mapping[str, Any], volts: Any, elements: Any
) -> dict[str, PartState]:
    parts: dict[str, PartState] = {}
    for item, (sort, place) in built.loads.items():
        array = elements.arrays[sort]
        across = float(volts[array["a"][place]] - volts[array["b"][place]])
        current = float(currents[sort][place])
        floor = float(array["floor_v"][place]) if "floor_v" in array else NO_SUPPLY_V
        word = _load_word(across, floor)
        if word == "cannot run":
            built.problem("cannot_run", f"this load cannot run: {item} has {across:.2f} V "
                          f"and needs at least {floor:.3g} V", item)
        elif word == "reversed":
            built.problem("reversed", f"{item} is fed the wrong way round: {across:.2f} V", item)
        elif word == "no supply":
            built.problem("no_supply", f"{item} has no supply", item)
        parts[item] = PartState(current, across * current, word)
    for item, (sort, place) in built.parts.items():
        parts[item] = _source_state(sort, place, currents, volts, elements)
    return parts


def _load_word(across_v: float, floor_v: float) -> str:
    if across_v <= -NO_SUPPLY_V:
        return "reversed"
    if across_v < NO_SUPPLY_V:
        return "no supply"
    return "runs" if across_v >= floor_v else "cannot run"


def _source_state(
    sort: str, place: int, currents: Mapping[str, Any], volts: Any, elements: Any
) -> PartState:
    array = elements.arrays[sort]
    current = float(currents[sort][place])
    ends = {"batteries": ("plus", "minus"), "supplies": ("plus", "minus"),
            "converters": ("out_plus", "out_minus")}[sort]
    across = float(volts[array[ends[0]][place]] - volts[array[ends[1]][place]])
    if sort == "batteries":
        word = "discharging" if current > 1e-6 else "charging" if current < -1e-6 else "rest"
    else:
        limit = float(array["most_a"][place])
        word = "idle" if current < 1e-6 else "at its limit" if current > 0.999 * limit else "holds"
        held = across >= float(array["set_v"][place]) - 0.05 * current
        if word == "holds" and not held and sort == "converters":
            word = "at its limit"
    return PartState(current, across * current, word)
