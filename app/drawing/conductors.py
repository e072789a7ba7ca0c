"""Conductors as marks: width by area, full or open line by polarity, hops at crossings."""

from __future__ import annotations

import bisect
import math
from collections.abc import Collection, Iterable, Mapping, Sequence

from msgspec import Struct

from app.drawing.marks import Circle, Mark, Path, Point, line
from app.drawing.placing import PlacedPart
from app.drawing.routing import RouteEnd, crossing, legs, with_ends_moved
from app.drawing.routing_together import ROUNDS, Kept, Wanted, routed_together
from model.diagram import Conductor, Diagram
from model.units import area_mm2

HOP_RADIUS_MM = 1.8
BEND_RADIUS_MM = 2.5
DOT_MM, LIGHT_DOT_MM, HEAVY_MM = 1.1, 0.95, 0.5
OPEN_EDGE_MM = 0.22
CONTROL_DASH = (1.6, 0.9)
BONDING_DASH = (4.0, 0.9, 0.6, 0.9)
STROKE_EVERY_MM = 40.0


class LineLook(Struct, frozen=True):
    """How a conductor is drawn."""

    role: str
    width_mm: float
    dash: tuple[float, ...] = ()
    open: bool = False
    strokes: int = 0


def width_by_area(conductor: Conductor) -> float:
    """Return the line width for a conductor's area; thin when it is unknown. [mm]."""
    if conductor.size is None:
        return 0.35
    area = area_mm2(conductor.size.standard, conductor.size.text)
    for at_least, width in ((34.0, 1.0), (10.0, 0.7), (4.0, 0.5)):
        if area >= at_least:
            return width
    return 0.35


def look_of(conductor: Conductor) -> LineLook:
    """Return how a conductor is drawn, by its cores and purpose."""
    if conductor.purpose in ("control", "sense", "data") or conductor.cores == ("signal",):
        return LineLook("control", 0.3, CONTROL_DASH)
    if conductor.purpose in ("bonding", "case_ground", "lightning") or conductor.cores == ("E",):
        return LineLook("bonding", 0.5, BONDING_DASH)
    cores = set(conductor.cores)
    if cores & {"L", "L2", "N"}:
        return LineLook("ac", 0.6, strokes=3)
    if cores == {"-"}:
        return LineLook("negative", max(0.7, width_by_area(conductor)), open=True)
    strokes = 2 if "-" in cores else 0
    return LineLook("positive", width_by_area(conductor), strokes=strokes)


def drawn_paths(
    diagram: Diagram, parts: Mapping[str, PlacedPart]
) -> dict[str, tuple[Point, ...]]:
    """Return the corner points of every conductor that is drawn.

    A stored path is used when it still meets its ends; hand bends follow ends that moved; what
    has no path is routed.
    """
    paths: dict[str, tuple[Point, ...]] = {}
    open_ones: list[Conductor] = []
    for conductor in diagram.conductors.values():
        if not is_drawn(conductor, parts):
            continue
        stored = kept_path(conductor, parts)
        if stored is None:
            open_ones.append(conductor)
        else:
            paths[conductor.id] = stored
    # Drawn at every edit until they are stored: once round must do.
    return {**paths, **routed_anew(diagram, parts, open_ones, paths, rounds=0)}


def routed_anew(
    diagram: Diagram, parts: Mapping[str, PlacedPart], wires: Iterable[Conductor],
    kept: Mapping[str, Sequence[Point]], rounds: int = ROUNDS,
) -> dict[str, tuple[Point, ...]]:
    """Return new paths for some conductors, among the kept paths of others."""
    wanted = {wire.id: Wanted(*conductor_ends(wire, parts), look_of(wire).role)
              for wire in wires}
    others = {item: Kept(tuple(path), look_of(diagram.conductors[item]).role)
              for item, path in kept.items() if item not in wanted}
    return routed_together(wanted, [part.body.as_tuple() for part in parts.values()], others,
                           rounds)


def is_drawn(conductor: Conductor, parts: Mapping[str, PlacedPart]) -> bool:
    """Say whether both ends of a conductor stand on the sheet."""
    return all(end.component in parts for end in conductor.ends())


def conductor_ends(
    conductor: Conductor, parts: Mapping[str, PlacedPart]
) -> tuple[RouteEnd, RouteEnd]:
    """Return where both ends of a drawn conductor are."""
    start, finish = conductor.ends()
    return (parts[start.component].port(start.terminal),
            parts[finish.component].port(finish.terminal))


def kept_path(
    conductor: Conductor, parts: Mapping[str, PlacedPart]
) -> tuple[Point, ...] | None:
    """Return the stored path when it meets its ends, mended if its bends are by hand."""
    if conductor.path is None or len(conductor.path.points) < 2:
        return None
    points = conductor.path.points
    start, finish = conductor_ends(conductor, parts)
    if _near(points[0], start.at) and _near(points[-1], finish.at):
        return points
    return with_ends_moved(points, start, finish) if conductor.path.by_hand else None


def _near(a: Point, b: Point) -> bool:
    return abs(a[0] - b[0]) < 0.02 and abs(a[1] - b[1]) < 0.02


def hops(paths: Mapping[str, Sequence[Point]]) -> dict[str, list[Point]]:
    """Return the points at which each conductor hops over another: the level one hops."""
    level: list[tuple[str, tuple[Point, Point]]] = []
    upright: list[tuple[float, str, tuple[Point, Point]]] = []
    for item, path in paths.items():
        for leg in legs(path):
            if abs(leg[0][1] - leg[1][1]) < 1e-6:
                level.append((item, leg))
            else:
                upright.append((leg[0][0], item, leg))
    upright.sort(key=lambda entry: entry[0])
    xs = [entry[0] for entry in upright]
    found: dict[str, list[Point]] = {}
    for item, leg in level:
        low, high = sorted((leg[0][0], leg[1][0]))
        for k in range(bisect.bisect_right(xs, low), bisect.bisect_left(xs, high)):
            at = crossing(leg, upright[k][2])
            if at is not None and upright[k][1] != item:
                found.setdefault(item, []).append(at)
    return found


def full_points(
    path: Sequence[Point], hop_points: Iterable[Point] = (), square: Collection[Point] = ()
) -> tuple[Point, ...]:
    """Return the path with round corners and hops spelled out as short lines.

    Corners at the `square` points are not rounded.
    """
    hop_list = list(hop_points)
    points: list[Point] = [path[0]]
    for i in range(1, len(path)):
        before, here = path[i - 1], path[i]
        leg_end = here
        if i < len(path) - 1:
            radius = 0.0 if here in square else min(
                BEND_RADIUS_MM, _half(before, here), _half(here, path[i + 1]))
            leg_end = _toward(here, before, radius)
        points += _with_hops(points[-1], leg_end, hop_list)
        if i < len(path) - 1:
            points += _corner(leg_end, here, _toward(here, path[i + 1], radius))
    return tuple(points)


def _half(a: Point, b: Point) -> float:
    return (abs(a[0] - b[0]) + abs(a[1] - b[1])) / 2


def _toward(a: Point, b: Point, by: float) -> Point:
    whole = abs(a[0] - b[0]) + abs(a[1] - b[1]) or 1.0
    return (a[0] + (b[0] - a[0]) * by / whole, a[1] + (b[1] - a[1]) * by / whole)


def _corner(enter: Point, corner: Point, leave: Point) -> list[Point]:
    """Return points on a quarter circle (a quadratic curve is close enough) to `leave`."""
    points = []
    for step in (0.25, 0.5, 0.75, 1.0):
        a, b, c = (1 - step) ** 2, 2 * step * (1 - step), step**2
        points.append((a * enter[0] + b * corner[0] + c * leave[0],
                       a * enter[1] + b * corner[1] + c * leave[1]))
    return points


def _with_hops(start: Point, end: Point, hop_points: Sequence[Point]) -> list[Point]:
    """Return the points from a leg's start to its end, over the hops that lie on it."""
    if abs(start[1] - end[1]) > 1e-6:
        return [end]
    low, high = min(start[0], end[0]), max(start[0], end[0])
    on_leg = [x for x, y in hop_points
              if abs(y - start[1]) < 1e-6 and low + HOP_RADIUS_MM < x < high - HOP_RADIUS_MM]
    forward = end[0] >= start[0]
    points: list[Point] = []
    for left, right in _merged(sorted(on_leg)):
        arc = _hop_arc(left, right, start[1])
        points += arc if forward else arc[::-1]
    if not forward:
        points = _reversed_hops(points)
    return [*points, end]


def _merged(xs: list[float]) -> list[tuple[float, float]]:
    """Return hops as intervals; two closer than 5 mm become one flat hop."""
    spans: list[tuple[float, float]] = []
    for x in xs:
        if spans and x - spans[-1][1] < 5.0 - HOP_RADIUS_MM:
            spans[-1] = (spans[-1][0], x + HOP_RADIUS_MM)
        else:
            spans.append((x - HOP_RADIUS_MM, x + HOP_RADIUS_MM))
    return spans


def _hop_arc(left: float, right: float, y: float) -> list[Point]:
    r = HOP_RADIUS_MM
    quarter = [math.pi / 2 * i / 4 for i in range(5)]
    rise = [(left + r - r * math.cos(a), y - r * math.sin(a)) for a in quarter]
    fall = [(right - r + r * math.cos(a), y - r * math.sin(a)) for a in reversed(quarter)]
    return rise + fall


def _reversed_hops(points: list[Point]) -> list[Point]:
    """Put hops in the order in which a leg that runs to the left meets them."""
    return sorted(points, key=lambda point: -point[0])


def conductor_marks(
    conductor: Conductor, path: Sequence[Point], hop_points: Iterable[Point] = (),
    square: Collection[Point] = (), dots: Iterable[Point] = (),
) -> tuple[Mark, ...]:
    """Return the marks of one conductor, with square corners and dots where others tee off."""
    look = look_of(conductor)
    points = full_points(path, hop_points, square)
    marks: list[Mark] = [Path(points, look.role, look.width_mm, look.dash)]
    if look.open:
        marks.append(Path(points, "paper", look.width_mm - 2 * OPEN_EDGE_MM))
    if look.strokes:
        marks += _core_strokes(path, look)
    radius = DOT_MM if look.width_mm >= HEAVY_MM else LIGHT_DOT_MM
    marks += [Circle(x, y, radius, None, 0.0, look.role) for x, y in dots]
    return tuple(marks)


def _core_strokes(path: Sequence[Point], look: LineLook) -> list[Mark]:
    """Return slanted strokes that say how many cores: on the longest leg, and every 40 mm."""
    marks: list[Mark] = []
    for a, b in core_stroke_legs(path):
        for i in range(look.strokes):
            shift = (i - (look.strokes - 1) / 2) * 0.9
            level = abs(a[1] - b[1]) < 1e-6
            x, y = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
            x, y = (x + shift, y) if level else (x, y + shift)
            marks.append(line(x - 0.7, y + 1.4, x + 0.7, y - 1.4, 0.25, look.role) if level
                         else line(x - 1.4, y + 0.7, x + 1.4, y - 0.7, 0.25, look.role))
    return marks


def core_stroke_legs(path: Sequence[Point]) -> list[tuple[Point, Point]]:
    """Return the pieces in whose middle the core strokes stand."""
    longest = max(legs(path), key=lambda leg: _half(*leg))
    length = 2 * _half(*longest)
    count = max(1, int(length // STROKE_EVERY_MM))
    pieces = []
    for i in range(count):
        a = _toward(longest[0], longest[1], length * i / count)
        b = _toward(longest[0], longest[1], length * (i + 1) / count)
        pieces.append((a, b))
    return pieces
