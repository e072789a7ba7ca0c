"""Which way up each part stands, and what lies above what.

Power falls down the sheet. Most symbols say where their neighbours belong: a battery is fed from
above, a solar array feeds what is below it. Fuses and switches have no top of their own; what can
be reached through each of their ends has a vote.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct

from app.drawing.placing import PlacedPart, placed_part
from app.drawing.routing import RouteEnd
from model.diagram import Component, Conductor, Diagram
from model.edits import changed
from model.frozen_map import FrozenMap
from model.kinds import kind_of

BARS = ("busbar", "terminal_block", "stud", "bonding_bus")
TURNED_TOO = ("shunt", "galvanic_isolator")
NEVER_TURNED = ("reversing_contactor", "motor_controller")
UP, DOWN = -1, 1
ROW_MM, FIRST_ROW_MM = 22.0, 23.0  # a taller part reaches into the next rows
FURTHER = 0.5  # what a vote weighs less for each device it is heard through
STORAGE_VOTE, BAR_VOTE = 0.6, 0.8


class Line(Struct, frozen=True):
    """A conductor as the layout sees it: two parts, their ports, how much it counts."""

    item: str
    ends: tuple[tuple[str, str], tuple[str, str]]
    heavy: float
    negative: bool


def is_bar(component: Component) -> bool:
    """Say whether conductors may leave a part to any side."""
    return component.kind in BARS


def slides(component: Component) -> bool:
    """Say whether the studs of a part may be drawn anywhere along it."""
    return component.kind in ("busbar", "terminal_block")


def is_negative_bar(component: Component) -> bool:
    """Say whether a part is a bar to which currents come home."""
    return is_bar(component) and component.parameters.get("pole") == "-"


def has_no_top(component: Component) -> bool:
    """Say whether a part may stand either way up: fuses, breakers, switches."""
    kind = kind_of(component)
    return (kind.role in ("switch", "protection") and kind.slug not in NEVER_TURNED
            ) or kind.slug in TURNED_TOO


def drawn_lines(diagram: Diagram, drawn: Mapping[str, Component]) -> list[Line]:
    """Return the conductors whose ends both stand on the sheet."""
    return [_line(wire) for wire in diagram.conductors.values()
            if all(end.component in drawn for end in wire.ends())
            and wire.start.component != wire.finish.component]


def _line(wire: Conductor) -> Line:
    (a, b), cores = wire.ends(), set(wire.cores)
    negative = cores <= {"-", "E"}
    quiet = negative or wire.purpose in ("control", "sense", "data", "bonding")
    return Line(wire.id, ((a.component, a.terminal), (b.component, b.terminal)),
                0.3 if quiet else 1.0, negative)


def standing_parts(
    drawn: Mapping[str, Component], lines: Iterable[Line],
    rows: Mapping[str, FrozenMap[str, object]],
) -> dict[str, PlacedPart]:
    """Return every part at the origin, turned as it is to stand."""
    reach = _Reach(drawn, lines)
    found = {}
    for item, component in drawn.items():
        turn = reach.turn_of(component) if has_no_top(component) else (
            0 if is_bar(component) else component.turn)
        part = placed_part(changed(component, at=(0.0, 0.0), turn=turn), None, rows.get(item))
        assert part is not None
        found[item] = part
    return found


class _Reach:
    """What stands behind each end of the devices that have no top."""

    def __init__(self, drawn: Mapping[str, Component], lines: Iterable[Line]) -> None:
        self._drawn = drawn
        self._at: dict[tuple[str, str], list[tuple[str, str]]] = {}
        for line in lines:
            if not line.negative:
                a, b = line.ends
                self._at.setdefault(a, []).append(b)
                self._at.setdefault(b, []).append(a)
        self._shapes: dict[str, PlacedPart] = {}

    def turn_of(self, component: Component) -> int:
        """Return the turn in which the device's ends point to what they are joined to."""
        lean = 0.0
        for port, end in self._shape(component.id).ports.items():
            if end.direction[1]:
                lean += end.direction[1] * sum(self._votes(component.id, port))
        return 180 if lean < -1e-9 else 0

    def _votes(self, item: str, port: str) -> Iterator[float]:
        """Yield votes for this end to point up (below zero) or down."""
        seen = {(item, port)}
        queue = [((item, port), 1.0)]
        while queue:
            here, weight = queue.pop(0)
            for other in self._at.get(here, ()):
                if other in seen or other[0] == item:
                    continue
                seen.add(other)
                component = self._drawn[other[0]]
                if has_no_top(component):
                    for far in self._shape(component.id).ports:
                        if (other[0], far) not in seen or far == other[1]:
                            seen.add((other[0], far))
                            further = weight if far == other[1] else weight * FURTHER
                            queue.append(((other[0], far), further))
                else:
                    yield weight * self._vote(component, other[1])

    def _vote(self, component: Component, port: str) -> float:
        if is_bar(component):
            return BAR_VOTE * (DOWN if component.parameters.get("pole") == "-" else UP)
        side = self._shape(component.id).port(port).direction
        if side[1] == 0:
            return 0.5
        strength = STORAGE_VOTE if kind_of(component).role == "storage" else 1.0
        return -side[1] * strength

    def _shape(self, item: str) -> PlacedPart:
        if item not in self._shapes:
            component = self._drawn[item]
            turn = 0 if has_no_top(component) or is_bar(component) else component.turn
            part = placed_part(changed(component, at=(0.0, 0.0), turn=turn))
            assert part is not None
            self._shapes[item] = part
        return self._shapes[item]


def rows_taken(part: PlacedPart) -> int:
    """Return into how many rows a part reaches: a panel is as tall as several devices."""
    return 1 + max(0, math.ceil((part.body.h - FIRST_ROW_MM) / ROW_MM))


def mountings(drawn: Mapping[str, Component]) -> list[Line]:
    """Return lines that are not drawn: from what an engine drives or carries to the engine."""
    found = []
    for item, component in drawn.items():
        engines = {component.parameters.get("driven_by"), component.mounted_on}
        for engine in sorted(str(e) for e in engines if e in drawn and e != item):
            found.append(Line(f"{item}@{engine}", ((item, ""), (engine, "")), 0.4, True))
    return found


def side_of(end: RouteEnd) -> int:
    """Return UP or DOWN for an end that points there, else 0."""
    return end.direction[1]
