"""Batteries connected the wrong way round, told from what everything else says.

Plus terminals, positive bars, fuses and positive cores say that what they are joined to is
positive; minus terminals, negative bars, engine, earth and negative cores that it is negative. A
net of which nearly all say the same is marked. On each way over batteries from a negative net to a
positive one the volts must go up. Where they do not, and one smallest choice of batteries, turned
round, makes them go up on every way, those are the wrong way round. Where several choices do nobody
can tell.

A link in series belongs to neither side, and its cores alone mark nothing. Where only pluses or
only minuses meet at one, the volts of the string must be those of a system too: of three in series
one that is reversed leaves them going up.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

from model.analysis.bank_strings import below
from model.analysis.polarity import Nets
from model.analysis.systems import draws_returns
from model.analysis.voltage_drop import PANELS
from model.diagram import Component
from model.graph import Edge, TerminalGraph
from model.kinds import kind_of
from model.kinds.storage import is_same_nominal, nominal_v

POLED_ROLES = ("load", "converter", "source")
WITHOUT = frozenset({"lamp", "heater", "dump_load"})  # polarity
GROUND = ("engine", "earth")
LEAST_MARKS, CLEARLY = 2, 2  # marks of a net, and how many times those of the other side
MOST_BATTERIES, MOST_TURNED, MOST_WAYS = 12, 4, 2000  # beyond, there is too much to look through
USUAL_V = 12.0  # of a battery of which nobody said it

Mark = tuple[int, str, bool]
Ways = list[tuple[tuple[int, int], ...]]


@dataclass(frozen=True, slots=True)
class _Battery:
    """A battery with the nets at its posts and its volts [V]; `may_turn` says that single cores
    end at its posts, which can be changed over."""

    item: str
    plus: int
    minus: int
    volts: float | None
    may_turn: bool


def reversed_batteries(graph: TerminalGraph) -> tuple[str, ...]:
    """Return the batteries that are connected the wrong way round."""
    return graph.of_wiring("reversed batteries", lambda: _reversed(graph))


def has_polarity(part: Component) -> bool:
    """Say whether a part has a plus and a minus that may not be changed over."""
    role = kind_of(part).role
    return part.kind in PANELS or (
        role in POLED_ROLES and (part.parameters.get("role") or part.kind) not in WITHOUT)


def _reversed(graph: TerminalGraph) -> tuple[str, ...]:
    nets = Nets(graph, _joins)
    batteries = list(_batteries(graph, nets))
    if not batteries or len(batteries) > MOST_BATTERIES:
        return ()
    negative, positive = _marked(graph, nets, batteries)
    ways = _ways(batteries, negative, positive)
    volts = _system_v(graph)
    judged_v = volts if _like_posts_meet(batteries, negative | positive) else ()
    wrong = [way for way in ways if not _goes_up(way, batteries, (), judged_v)]
    concerned = sorted({number for way in wrong for number, _ in way
                        if batteries[number].may_turn})
    for allowed_v in (volts, ()):
        found = _smallest(concerned, ways, batteries, allowed_v)
        if found:
            return tuple(batteries[i].item for i in found[0]) if len(found) == 1 else ()
    return ()


def _smallest(
    concerned: list[int], ways: Ways, batteries: list[_Battery], allowed_v: tuple[float, ...]
) -> list[tuple[int, ...]]:
    """Return the smallest choices of batteries that turned round settle all ways."""
    for count in range(1, min(len(concerned), MOST_TURNED) + 1):
        found = [turned for turned in combinations(concerned, count)
                 if all(_goes_up(way, batteries, turned, allowed_v) for way in ways)]
        if found:
            return found
    return []


def _joins(graph: TerminalGraph, edge: Edge) -> bool:
    """Join over every contact, but into no way of a panel: its loads say what the panel says."""
    if edge.role == "conductor":
        return edge.core in ("+", "-")
    if graph.kinds[edge.owner].slug in PANELS:
        inside = (graph.names[node].partition(".")[2] for node in (edge.a, edge.b))
        return all(name in ("in+", "bus+", "-") for name in inside)
    return edge.role in ("join", "overcurrent", "contact")


def _batteries(graph: TerminalGraph, nets: Nets) -> Iterator[_Battery]:
    """Yield the batteries in service that are connected and not short-circuited."""
    for part in graph.diagram.components.values():
        if part.kind != "battery_bank" or part.stored is True:
            continue
        plus, minus = (graph.number[f"{part.id}.{pole}"] for pole in "+-")
        wires = [edge for node in (plus, minus) for edge in _wires(graph, node)]
        if wires and nets.net(plus) != nets.net(minus):
            yield _Battery(
                part.id, nets.net(plus), nets.net(minus), nominal_v(part.parameters),
                not part.parameters.get("taps") and all(
                    len(graph.diagram.conductors[edge.owner].cores) == 1 for edge in wires))


def _wires(graph: TerminalGraph, node: int) -> list[Edge]:
    return [edge for number in graph.edges_at[node]
            if (edge := graph.edges[number]).role == "conductor"]


def _marked(
    graph: TerminalGraph, nets: Nets, batteries: list[_Battery]
) -> tuple[set[int], set[int]]:
    """Return the nets that are clearly negative, and those that are clearly positive."""
    marks = Counter[tuple[int, str]]()
    strong = set()
    for node, side, is_strong in _marks(graph):
        marks[nets.net(node), side] += 1
        if is_strong:
            strong.add((nets.net(node), side))
    clear = {(net, side) for net, side in strong if marks[net, side] >= max(
        LEAST_MARKS, CLEARLY * marks[net, "-" if side == "+" else "+"])}
    positive = {net for net, side in clear if side == "+"}
    return {net for net, side in clear if side == "-"} | _implied(
        graph, batteries, positive), positive


def _marks(graph: TerminalGraph) -> Iterator[Mark]:
    """Yield terminals with the side that something says they are on, and whether by itself."""
    for system in graph.diagram.systems.values():
        if system.negative_datum in graph.number:
            yield graph.number[str(system.negative_datum)], "-", True
    cores = [edge for edge in graph.edges if edge.role == "conductor" and edge.core in ("+", "-")]
    yield from ((edge.a, edge.core, False) for edge in cores)
    ends = {node for edge in cores for node in (edge.a, edge.b)}
    for item, kind in graph.kinds.items():
        part = graph.diagram.components[item]
        drawn = [node for node in graph.nodes_of(item) if node in ends]
        if kind.role in GROUND:
            yield from ((node, "-", True) for node in drawn)
        elif kind.role == "distribution" and part.parameters.get("pole") in ("+", "-"):
            yield from ((node, part.parameters["pole"], True) for node in drawn[:1])
        elif drawn and has_polarity(part):
            sides = {graph.number[f"{item}.{terminal}"]: pole
                     for port in graph.ports[item]
                     for pole, terminal in port.poles.items() if pole in ("+", "-")}
            yield from ((node, sides[node], True) for node in drawn if node in sides)
    for edge in graph.edges:
        if edge.role == "overcurrent" and graph.names[edge.a].endswith("+"):
            yield edge.a, "+", False


def _implied(
    graph: TerminalGraph, batteries: list[_Battery], positive: set[int]
) -> set[int]:
    """Return the nets of posts at which nothing is drawn and that stand for the negative.

    A plus on which nothing is, while the minus is on the positive, is one of them too; but where
    the minus is linked to the plus of another battery it may wait, as the top of a string.
    """
    if draws_returns(graph.diagram):
        return set()
    bare = {one.minus for one in batteries if not _wires(graph, graph.number[f"{one.item}.-"])}
    return bare | {one.plus for one in batteries if one.minus in positive and not (
        _wires(graph, graph.number[f"{one.item}.+"]) or below(graph, one.item))}


def _ways(batteries: list[_Battery], negative: set[int], positive: set[int]) -> Ways:
    """Return every way over batteries from a negative net to a positive one: the number of each
    battery with 1 from its minus to its plus, -1 back. None where there are too many.
    """
    steps: dict[int, list[tuple[int, int, int]]] = {}
    for number, one in enumerate(batteries):
        steps.setdefault(one.minus, []).append((one.plus, number, 1))
        steps.setdefault(one.plus, []).append((one.minus, number, -1))
    found: Ways = []
    stack: list[tuple[tuple[int, ...], tuple[tuple[int, int], ...]]] = [
        ((net,), ()) for net in sorted(negative)]
    while stack:
        passed, way = stack.pop()
        for net, number, sign in steps.get(passed[-1], ()):
            if net in passed or net in negative:
                continue
            longer = (*way, (number, sign))
            stack.append(((*passed, net), longer))
            if net in positive:
                found.append(longer)
        if len(found) + len(stack) > MOST_WAYS:
            return []
    return found


def _system_v(graph: TerminalGraph) -> tuple[float, ...]:
    """Return the volts of the boat's systems; none when one is not said. [V]"""
    volts = [system.nominal_v for system in graph.diagram.systems.values()]
    return tuple(v for v in volts if v) if all(volts) else ()


def _like_posts_meet(batteries: list[_Battery], marked: set[int]) -> bool:
    """Say whether in the middle of a string only pluses meet, or only minuses."""
    meeting: dict[int, list[str]] = {}
    for one in batteries:
        meeting.setdefault(one.plus, []).append("+")
        meeting.setdefault(one.minus, []).append("-")
    return any(len(posts) > 1 and len(set(posts)) == 1
               for net, posts in meeting.items() if net not in marked)


def _goes_up(
    way: tuple[tuple[int, int], ...], batteries: list[_Battery], turned: tuple[int, ...],
    allowed_v: tuple[float, ...],
) -> bool:
    """Say whether the volts go up on a way with some batteries turned round, and as far as they
    may.
    """
    high_v = sum((-sign if number in turned else sign) * (batteries[number].volts or USUAL_V)
                 for number, sign in way)
    return high_v > 0 and (not allowed_v or any(is_same_nominal(high_v, v) for v in allowed_v))
