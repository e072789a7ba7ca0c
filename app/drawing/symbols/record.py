"""What a symbol is: marks, the places of its ports and the body that holds both, in its own mm.

The origin lies on the grid of 2.5 mm and so does every port. A port says which way a conductor
leaves it; (0, 0) leaves the way free, as on the studs of a busbar.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from app.drawing.fonts import text_box
from app.drawing.marks import Box, Mark, Text, bounds

Parameters = Mapping[str, Any]
Positions = Mapping[str, str]
CLOSED = frozenset({"on", "in", "closed"})


class PortPlace(Struct, frozen=True):
    """Where a port is, and the way out of the body. [mm]."""

    x: float
    y: float
    dx: int = 0
    dy: int = 0


class Symbol(Struct, frozen=True):
    """A symbol as it stands, before it is turned and moved."""

    marks: tuple[Mark, ...]
    ports: Mapping[str, PortPlace]
    body: Box


Draw = Callable[[Parameters, Positions], Symbol]


def up(x: float, y: float) -> PortPlace:
    """Return a port that is left upwards."""
    return PortPlace(x, y, 0, -1)


def down(x: float, y: float) -> PortPlace:
    """Return a port that is left downwards."""
    return PortPlace(x, y, 0, 1)


def left(x: float, y: float) -> PortPlace:
    """Return a port that is left to the left."""
    return PortPlace(x, y, -1, 0)


def right(x: float, y: float) -> PortPlace:
    """Return a port that is left to the right."""
    return PortPlace(x, y, 1, 0)


def made(marks: Iterable[Mark], ports: Mapping[str, PortPlace]) -> Symbol:
    """Return the symbol whose body is the box round its marks and ports."""
    listed = tuple(_turnable(mark) for mark in marks)
    body = bounds(listed)
    for port in ports.values():
        at = Box(port.x, port.y, port.x, port.y)
        body = at if body is None else body.joined(at)
    if body is None:
        raise ValueError("a symbol has marks or ports")
    return Symbol(listed, dict(ports), body)


def _turnable(mark: Mark) -> Mark:
    """Anchor lettering by its middle, so that it keeps its place when the symbol is turned."""
    if not isinstance(mark, Text) or mark.anchor == "middle":
        return mark
    box = text_box(mark)
    return replace(mark, x=(box.x0 + box.x1) / 2, anchor="middle")


def is_closed(positions: Positions, handle: str = "", normal: str = "on") -> bool:
    """Say whether the contact worked by a handle conducts; normal position when not told."""
    return positions.get(handle, normal) in CLOSED
